// Watches what first visits call, so that the build knows what a program must
// have to begin: the passages heard and tapped on a tablet and on a phone, in
// both languages, another choice, and tasks that a teacher has sent. What judges
// a round is left out: before one is over, the rest of the program has come.
//
//   AGREMENS_SITE=FOLDER AGREMENS_MARKED=PROGRAM node first-visit.mjs LINKS
//
// PROGRAM is the browser program with a mark for each function, LINKS a file
// of tasks. It prints the marks as numbers of 32 bits, as JSON.
import { readFile } from 'node:fs/promises';
import { launch, state } from './browser.mjs';
import { host } from './host.mjs';

const marked = await readFile(process.env.AGREMENS_MARKED);
const site = await host(process.env.AGREMENS_SITE, (name) => {
  if (/^\/rest-/.test(name)) return 'agremens.bringRest = async () => {};';
  return /^\/agremens-[^r].*\.wasm$/.test(name) ? marked : null;
});
const tasks = (await readFile(process.argv[2], 'utf8')).split('\n').filter((line) => /^\S{80,}$/.test(line)).slice(0, 2);
const browser = await launch({ measured: true });
const called = [];

const tablet = { viewport: { width: 1024, height: 768 } };
const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };

// visit opens the page, does what f does and adds what was called.
async function visit(device, address, f) {
  const context = await browser.newContext(device);
  const page = await context.newPage();
  await page.addInitScript(() => {
    let Go;
    Object.defineProperty(globalThis, 'Go', {
      get: () => Go,
      set(made) {
        Go = made;
        const { run } = Go.prototype;
        Go.prototype.run = function (instance) {
          globalThis.__program = instance.exports;
          return run.call(this, instance);
        };
      },
    });
  });
  console.error(address.slice(0, 60));
  for (const again of [false, true]) { // and come back
    await page.goto(site.url + (again ? 'index.html' : '') + address);
    await state(page, 'ready');
    const during = again ? null : await f(page, device.hasTouch ? 'tap' : 'click');
    if (!during) await page.waitForTimeout(500);
    (during ?? await marksOf(page)).forEach((m, i) => { called[i] = (called[i] ?? 0) | m; });
  }
  await context.close();
}

// marksOf reads what was called so far.
const marksOf = (page) => page.evaluate(() => Array.from({ length: 1e5 }, (_, i) => __program['called' + i]).filter(Boolean).map((g) => g.value));

async function hear(page, press, ms) {
  await page[press]('#listen');
  await state(page, 'counting', 'listening');
  await page.waitForTimeout(ms);
  await page[press]('#stop');
  await state(page, 'ready', 'result');
}

// play taps along for so many seconds and stops. It returns what was called while
// the round went on.
async function play(page, press, seconds) {
  await page.evaluate(() => document.getElementById('tap').click()); // a student's stands behind the three dots
  await state(page, 'tapping', { timeout: 60_000 });
  let marks;
  const pad = press === 'tap' && await page.locator('#pad').boundingBox();
  for (const end = Date.now() + 1000 * seconds; Date.now() < end && await page.getAttribute('html', 'data-state') === 'tapping';) {
    for (const side of [0.3, 0.8, 0.8]) {
      if (pad) await page.touchscreen.tap(pad.x + pad.width * side, pad.y + pad.height / 2).catch(() => {});
      else await page.keyboard.press(side < 0.5 ? 'KeyJ' : 'KeyK');
      await page.waitForTimeout(170);
    }
    const now = await marksOf(page);
    if (await page.getAttribute('html', 'data-state') === 'tapping') marks = now;
  }
  if (await page.getAttribute('html', 'data-state') === 'tapping') await page[press]('#stop').catch(() => {});
  await state(page, 'result', 'ready', { timeout: 60_000 });
  return marks;
}

const passages = [['mordent', 'en'], ['trill', 'de'], ['turn', 'en'], ['appoggiatura', 'en']];
try {
  for (const [device, some] of [[tablet, passages], [phone, passages.slice(0, 2)]]) {
    for (const [passage, locale] of some) {
      await visit({ ...device, locale }, `?passage=${passage}&bars=1-2&countin=1`, async (page, press) => {
        await hear(page, press, 3000);
        await page.evaluate(() => document.querySelectorAll('#choices button')[1]?.click());
        await page.evaluate(() => document.getElementById('next-sign').click());
        return play(page, press, 30);
      });
    }
  }
  await visit(phone, '', (page, press) => hear(page, press, 3000));
  for (const letters of tasks) {
    await visit(tablet, '#task=' + letters, async (page, press) => {
      await page.click('#go'); // the first step is to listen
      await state(page, 'listening');
      await page.waitForTimeout(1000);
      await page.click('#stop');
      await state(page, 'ready', 'result');
      return play(page, press, 6);
    });
  }
  console.log(JSON.stringify(called.map((m) => m >>> 0)));
} finally {
  await browser.close();
  site.close();
}
