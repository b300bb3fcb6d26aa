// The robot listener: plays whole rounds by ear and tells what the program
// reported beside what the robot really did.
import { open, state } from './browser.mjs';
import { watch } from './machine.mjs';

const KEYS = { right: ['KeyJ', 'KeyK'], left: ['KeyF', 'KeyD'] };

const query = (o) => '?' + new URLSearchParams(o).toString();
const mean = (xs) => xs.reduce((a, b) => a + b, 0) / xs.length;

// sit opens the program with options (the page's own URL parameters) for
// rounds one after the other.
export async function sit(browser, url, options) {
  const opened = await open(browser, url, query(options));
  await state(opened.page, 'ready');
  return { ...opened, codes: KEYS[options.hand] };
}

// round taps everything it hears with a delay and returns what the program
// reported and what the robot did. For taps after hearing, say how many sounds
// are the count-in; for taps before it, give what learn() returned.
export async function round({ page, wrong, codes }, { delay, pattern = null, skip = 0 }) {
  await page.evaluate((plan) => window.__robot.arm(plan), { delay, codes, pattern, skip });
  const seen = await played(page);
  return { ...told(seen.result), ...own(seen, skip), text: seen.text, stood: seen.stood, wrong };
}

// learn plays a round without a tap and returns the frames of its sounds from
// the first one, and how many of them were the count-in. A round in which the
// machine stood still teaches nothing and is played again.
export async function learn({ page }, say, tries = 4) {
  await page.evaluate(() => window.__robot.rest());
  const { onsets, result, stood } = await played(page);
  if (stood && tries > 1) {
    say(`again: ${stood}`);
    return learn({ page }, say, tries - 1);
  }
  return { pattern: onsets.map((f) => f - onsets[0]), skip: onsets.length - told(result).wanted };
}

// played starts a round and returns what there is to read at its end, and what
// stood still meanwhile.
async function played(page) {
  const machine = await watch(page);
  await page.click('#tap');
  await state(page, 'counting', 'tapping');
  await state(page, 'result', { timeout: 180_000 });
  const stood = await machine.stood();
  return { ...await page.evaluate(read), stood };
}

// read runs in the page.
function read() {
  const r = window.__robot;
  const output = document.getElementById('result');
  return {
    rate: r.context.sampleRate, onsets: r.onsets, holes: r.holes, taps: r.taps, lines: r.lines,
    result: { ...output.dataset }, text: output.innerText,
  };
}

// told turns the data attributes of the result into numbers.
export function told(data) {
  const number = (name) => {
    if (data[name] === undefined || data[name] === '') return NaN;
    return Number(data[name]);
  };
  return {
    mean: number('meanMs'), spread: number('spreadMs'), wanted: number('wanted'), hit: number('hit'),
    missed: number('missed'), extra: number('extra'), gaps: number('gaps'),
    jumps: number('jumps'),
  };
}

// lineOf is hook.js's: what samples of sound time against page time have in common.
export function lineOf(lines) {
  const offsets = lines.map(([, offset]) => offset).sort((a, b) => a - b);
  return offsets[lines.at(-1)?.[2] ? offsets.length >> 1 : Math.floor(0.1 * (offsets.length - 1))];
}

// own works out afterwards what the robot did: how late each tap really was,
// by the line around that tap, and how far that line moved during the round.
function own({ rate, onsets, taps, lines, holes }, skip) {
  const offset = (at) => lineOf(lines.filter(([t]) => Math.abs(t - at) < 1500));
  const delays = taps.map(([frame, at]) => at - (offset(at) + frame / rate * 1000));
  const offsets = taps.map(([, at]) => offset(at));
  // A sequence may start between two frames, so one frame is no difference.
  const heard = new Set(onsets.flatMap((f) => [f - 1, f, f + 1]));
  return {
    heard: onsets.length - skip,
    taps: taps.length,
    unheard: taps.filter(([frame]) => !heard.has(frame)).length, // predicted, but never sounded there
    did: taps.length ? mean(delays) : NaN,
    moved: taps.length ? Math.max(...offsets) - Math.min(...offsets) : 0,
    holes,
  };
}

// unsteady says why a round proves nothing, "" when it does: the machine stood
// still, or kept the robot from tapping when it meant to. What the page itself
// says of holes and jumps is no reason: they may be its own.
export function unsteady(r, delay) {
  if (r.stood) return r.stood;
  if (r.moved > 4) return `the sound device moved by ${r.moved.toFixed(1)} ms against the clock`;
  if (Math.abs(r.did - delay) > 3) return `the robot itself tapped ${r.did.toFixed(1)} ms instead of ${delay} ms`;
  return '';
}

// complaints lists what the program reported wrongly about a steady round.
export function complaints(r, delay, tolerance = 6) {
  const wrong = [...r.wrong];
  const check = (ok, text) => { if (!ok) wrong.push(text); };
  check(r.heard === r.wanted, `${r.heard} onsets were heard, data-wanted is ${r.wanted}`);
  check(r.wanted > 0, 'no onset was wanted');
  check(r.taps === r.heard, `the robot tapped ${r.taps} times for ${r.heard} onsets`);
  check(r.unheard === 0, `${r.unheard} onsets did not sound where the pattern had them`);
  check(r.hit === r.wanted, `data-hit is ${r.hit} of ${r.wanted}`);
  check(r.missed === 0, `data-missed is ${r.missed}`);
  check(r.extra === 0, `data-extra is ${r.extra}`);
  check(r.gaps === 0, `data-gaps is ${r.gaps}`);
  check(r.jumps === 0, `data-jumps is ${r.jumps}`);
  check(Math.abs(r.mean - delay) <= tolerance, `data-mean-ms is ${r.mean}, the robot tapped at ${delay}`);
  check(r.text.trim() !== '', '#result says nothing in words');
  return wrong;
}
