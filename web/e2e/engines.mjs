// The program's page in Chromium, Firefox and WebKitGTK, each started as a
// visitor starts it. Orders reach the page through its own server, so that no
// browser needs a driver, and none of a driver's faults can spoil a round.
import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { serve, PATIENCE } from './browser.mjs';

const pause = (ms) => new Promise((resolve) => setTimeout(resolve, ms));

const MINIBROWSER = ['4.1', '4.0', '6.0'].map((v) => `/usr/lib/${process.arch === 'arm64' ? 'aarch64' : 'x86_64'}-linux-gnu/webkit2gtk-${v}/MiniBrowser`);

const chromium = (dir, ...more) => [process.env.AGREMENS_CHROMIUM || '/usr/bin/chromium', [
    ...more, '--no-sandbox', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync',
    '--autoplay-policy=no-user-gesture-required', '--use-gl=angle', '--use-angle=swiftshader', '--enable-unsafe-swiftshader',
    '--window-size=1024,768', `--user-data-dir=${dir}`], {}];

export const engines = {
  chromium: (dir) => chromium(dir, '--headless=new'),
  window: (dir) => chromium(dir), // Chromium where its window is seen
  firefox: (dir) => ['firefox-esr', ['--no-remote', '--new-instance', '--profile', dir, '--width', '1024', '--height', '768'], { MOZ_DISABLE_CONTENT_SANDBOX: '1' }],
  webkit: (dir) => [MINIBROWSER.find(existsSync) ?? 'MiniBrowser', ['--autoplay-policy=allow', '--geometry=1024x768'],
    { XDG_DATA_HOME: dir, XDG_CACHE_HOME: dir, WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS: '1', WEBKIT_DISABLE_COMPOSITING_MODE: '0' }],
};

// A new profile of Firefox asks and fetches nothing, opens no page of its own
// before ours, slows no timer down where it thinks the page out of sight, and
// lets sound begin.
export const PREFS = {
  'media.autoplay.default': 0, 'media.autoplay.blocking_policy': 0, 'browser.shell.checkDefaultBrowser': false,
  'browser.aboutwelcome.enabled': false, 'datareporting.policy.dataSubmissionEnabled': false, 'app.update.enabled': false,
  'browser.startup.homepage_override.mstone': 'ignore', 'toolkit.telemetry.enabled': false, 'network.captive-portal-service.enabled': false,
  'browser.safebrowsing.malware.enabled': false, 'browser.safebrowsing.phishing.enabled': false, 'extensions.update.enabled': false,
  'app.normandy.enabled': false, 'browser.region.update.enabled': false, 'services.settings.server': 'http://127.0.0.1:9',
  'browser.preonboarding.enabled': false, 'termsofuse.bypassNotification': true, 'trailhead.firstrun.didSeeAboutWelcome': true,
  'dom.timeout.enable_budget_timer_throttling': false, 'dom.min_background_timeout_value': 4, 'dom.suspend_inactive.enabled': false,
  'webgl.force-enabled': true, 'webgl.disabled': false, 'dom.ipc.processPrelaunch.enabled': false,
  // No question lies over the page when it asks to be kept.
  'dom.storageManager.prompt.testing': true, 'dom.storageManager.prompt.testing.allow': true,
  // Sound that goes through a process of its own leaves the page standing, at
  // times, when it begins.
  'media.cubeb.sandbox': false,
};

// LaidAnew: the page was opened again while an order was under way, and the
// order is lost. A browser's first start does so at times.
class LaidAnew extends Error {
  constructor() { super('the page was laid anew'); }
}

// Silent: the page was too busy to answer an order.
class Silent extends Error {
  constructor(order) { super(`the page did not answer to ${order}`); }
}

// Questions change nothing: where the answer is lost they are put again.
const QUESTIONS = new Set(['page', 'look', 'value', 'shown', 'middle']);

// channel is the server's end: orders out, answers in, one at a time.
function channel() {
  let waiting = null, greeted = () => {}, id = 0;
  const open = new Map();
  const json = (response, value) => {
    response.writeHead(200, { 'Content-Type': 'application/json', 'Cache-Control': 'no-store', 'Cross-Origin-Resource-Policy': 'same-origin' });
    response.end(JSON.stringify(value));
  };
  // The page asks again only when it has answered, or an answer or an order
  // was lost on the way: then it gets the same order again.
  const send = () => {
    const [next] = open.values();
    if (!waiting || !next) return;
    json(waiting.response, next.order);
    clearTimeout(waiting.timer);
    waiting = null;
  };
  return {
    async handle(request, response) {
      if (request.url === '/__robot/next') {
        // Who asks has given up asking before: a browser has six connections
        // to a host, and one that is never answered is lost to it.
        if (waiting) json(waiting.response, {});
        clearTimeout(waiting?.timer);
        const timer = setTimeout(() => { if (waiting?.response === response) { waiting = null; json(response, {}); } }, 5000);
        waiting = { response, timer };
        response.on('close', () => { if (waiting?.response === response) waiting = null; });
        return send();
      }
      let body = '';
      for await (const chunk of request) body += chunk;
      json(response, {});
      const answer = JSON.parse(body);
      if (answer.hello !== undefined) {
        for (const { reject } of open.values()) reject(new LaidAnew());
        open.clear();
        return greeted(answer.hello);
      }
      const { resolve, reject } = open.get(answer.id) ?? {};
      open.delete(answer.id);
      if (answer.error) reject?.(new Error(answer.error));
      else resolve?.(answer.value);
    },
    // call has the page do something and returns what it gives back.
    call(name, ...args) {
      return new Promise((resolve, reject) => {
        const order = { id: ++id, name, args };
        open.set(order.id, { order, resolve, reject });
        setTimeout(() => { if (open.delete(order.id)) reject(new Silent(name)); }, PATIENCE / 2);
        send();
      });
    },
    greeting: (ms) => new Promise((resolve, reject) => {
      const timer = setTimeout(() => reject(new Error(`the page did not open in ${ms / 1000} s`)), ms);
      greeted = (hello) => { clearTimeout(timer); resolve(hello); };
    }),
  };
}

// open starts an engine with the page of a query on a desktop; prefs are more of
// Firefox's, args more for the command. The page's
// call(name, …) carries out orders of channel.js; goto(query) opens another
// address; cut(true) takes the network away from it.
export async function open(engine, desktop, query, { prefs = {}, args: more = [] } = {}) {
  const line = channel();
  const robot = Object.fromEntries(await Promise.all(['hook.js', 'channel.js'].map(async (name) => [`/__robot/${name}`, await readFile(new URL(name, import.meta.url))])));
  const server = await serve({ scripts: robot, handle: line.handle });
  const profile = await mkdtemp(join(desktop.dir, `${engine}-`));
  await writeFile(join(profile, 'user.js'), Object.entries({ ...PREFS, ...prefs }).map(([k, v]) => `user_pref(${JSON.stringify(k)}, ${JSON.stringify(v)});`).join('\n'));
  const [program, args, env] = engines[engine](profile);
  const hello = line.greeting(PATIENCE);
  const child = spawn(program, [...args, ...more, server.url + query], { env: { ...desktop.env, ...env }, stdio: process.env.AGREMENS_VERBOSE ? 'inherit' : 'ignore', detached: true });
  let gone = false;
  const kill = (signal) => { try { process.kill(-child.pid, signal); } catch { /* gone already */ } };
  const last = () => kill('SIGKILL');
  process.on('exit', last);
  child.on('exit', () => { gone = true; });
  const page = {
    async call(name, ...args) {
      for (let tries = QUESTIONS.has(name) ? 3 : 1; ; tries--) {
        try {
          return await line.call(name, ...args);
        } catch (error) {
          if (!(error instanceof Silent) || tries === 1) throw error;
        }
      }
    },
    url: server.url,
    pid: child.pid,
    cut: server.cut,
    async state(...wanted) {
      const { timeout = PATIENCE } = typeof wanted.at(-1) === 'object' ? wanted.pop() : {};
      for (const end = Date.now() + timeout; ;) {
        let at;
        try {
          at = await line.call('state');
        } catch (error) {
          if (!(error instanceof LaidAnew || error instanceof Silent)) throw error;
        }
        if (wanted.includes(at)) return at;
        if (at === 'error') throw new Error(`the page reports an error: ${(await line.call('read')).message}`);
        if (gone) throw new Error(`${engine} has gone`);
        if (Date.now() > end) throw new Error(`the page is ${at}, not ${wanted.join(' or ')}, after ${timeout / 1000} s`);
        await pause(300);
      }
    },
    async goto(next) {
      const again = line.greeting(PATIENCE);
      line.call('goto', next).catch(() => {});
      await again;
    },
    async reload() {
      const again = line.greeting(PATIENCE);
      line.call('reload').catch(() => {});
      await again;
    },
    async close() {
      kill('SIGTERM');
      await pause(500);
      kill('SIGKILL');
      process.off('exit', last);
      server.close();
      await rm(profile, { recursive: true, force: true, maxRetries: 5 });
    },
  };
  try {
    await hello;
  } catch (error) {
    await page.close();
    throw error;
  }
  return page;
}
