// Visits in browsers that are started as a visitor starts them, without a
// driver: the page itself tells its server how long each phase took.
import { spawn } from 'node:child_process';
import { readFileSync, readdirSync } from 'node:fs';
import { mkdtemp, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { engines, PREFS } from './engines.mjs';
import { host } from './host.mjs';

const pause = (ms) => new Promise((resolve) => { setTimeout(resolve, ms); });
const ours = (name) => readFileSync(new URL(name, import.meta.url));

// guests serves a built folder with the scripts that tell. While score is the
// name of a file, the page opens it.
export async function guests(folder) {
  const site = await host(folder, (name) => {
    if (name === '/index.html') return String(readFileSync(join(site.folder, 'index.html'))).replace('<head>', '<head><script src="__cost-hook.js"></script><script defer src="__told.js"></script>');
    if (name === '/__score') return site.score ? readFileSync(site.score) : null;
    return name.startsWith('/__') ? ours(name.slice(3)) : null;
  });
  return site;
}

// guest returns a browser's visitor with a profile that lasts on a desktop, the
// browser started with more arguments.
export async function guest(engine, desktop, more = []) {
  const profile = await mkdtemp(join(desktop.dir, `${engine}-`));
  await writeFile(join(profile, 'user.js'), Object.entries(PREFS).map(([k, v]) => `user_pref(${JSON.stringify(k)}, ${JSON.stringify(v)});`).join('\n'));
  const [program, args, env] = engines[engine](profile);
  // visit opens the site, stays for so many ms and closes the browser. It
  // returns what the page told first, and the size of the page's process in kB
  // after all it told.
  return async function visit(site, { stay = 4000, tells = 1 } = {}) {
    const told = [];
    let enough;
    const all = new Promise((resolve) => { enough = resolve; });
    site.told = (t) => { if (told.push(t) === tells) enough(true); };
    const child = spawn(program, [...args, ...more, site.url], { env: { ...desktop.env, ...env }, stdio: 'ignore', detached: true });
    const end = (signal) => { try { process.kill(-child.pid, signal); } catch { /* gone already */ } };
    const last = () => end('SIGKILL');
    process.on('exit', last);
    const came = await Promise.race([all, pause(90_000)]);
    await pause(stay);
    const held = largest(child.pid);
    end('SIGTERM');
    await pause(1500);
    end('SIGKILL');
    process.off('exit', last);
    return { ...told[0], came: Boolean(came), after: told.slice(1), process: held };
  };
}

// largest is the resident and the proportional size, in kB, of the largest
// process that shows a page among those that a process started.
function largest(root) {
  const parents = new Map();
  for (const pid of readdirSync('/proc').filter((name) => /^\d+$/.test(name))) {
    try {
      parents.set(Number(pid), Number(readFileSync(`/proc/${pid}/stat`, 'utf8').replace(/^.*\) \S /s, '').split(' ')[0]));
    } catch { /* it has ended */ }
  }
  const under = (pid) => { for (let p = pid; p > 1; p = parents.get(p)) if (p === root) return true; return false; };
  const pages = [...parents.keys()].filter((pid) => under(pid) && /contentproc.*\btab\b|WebKitWebProcess|type=renderer/.test(command(pid)));
  return pages.map(size).reduce((a, b) => (a.rss > b.rss ? a : b), { rss: NaN, pss: NaN });
}

function command(pid) {
  try { return readFileSync(`/proc/${pid}/cmdline`, 'utf8').replaceAll('\0', ' '); } catch { return ''; }
}

// size is what a process holds in memory, in kB: all of it, and with its share
// of what it shares with others.
function size(pid) {
  try {
    const text = readFileSync(`/proc/${pid}/smaps_rollup`, 'utf8');
    const of = (name) => Number(new RegExp(`^${name}:\\s+(\\d+)`, 'm').exec(text)?.[1] ?? NaN);
    return { rss: of('Rss'), pss: of('Pss') };
  } catch {
    return { rss: NaN, pss: NaN };
  }
}
