// The robot listener in Chromium, Firefox and WebKitGTK, on a busy page, held
// against a recorder outside the browser.
//
// AGREMENS_ENGINE names one engine; AGREMENS_LONG=1 asks for all delays and
// tempi; AGREMENS_SOAK=600 for that many seconds of unbroken sound, 0 for
// none; AGREMENS_ROBOT=0 leaves the robot out, AGREMENS_BUSY=0 the busy page.
import { test } from 'node:test';
import assert from 'node:assert/strict';
import { monitorEventLoopDelay } from 'node:perf_hooks';
import { PATIENCE } from './browser.mjs';
import * as desk from './desktop.mjs';
import { engines, open } from './engines.mjs';
import { stall } from './machine.mjs';
import { lineOf, told } from './robot.mjs';
import { turns, torn, distances } from './torn.mjs';

const long = process.env.AGREMENS_LONG === '1';
const chosen = process.env.AGREMENS_ENGINE ? [process.env.AGREMENS_ENGINE] : Object.keys(engines);
const soak = Number(process.env.AGREMENS_SOAK ?? 30);
const busy = process.env.AGREMENS_BUSY === '0' ? 0 : 15; // ms in every 50
const delays = long ? [-80, -40, 0, 40, 80] : [-40, 40];
const tempi = long ? [60, 96, 130] : [96];
const TRIES = 4;
const NEAR = long ? 5 : 8; // ms between what is reported and what the recorder says, on a quiet machine and beside other work
const LEAD = -35; // ms: what the robot's own taps are early by when it measures

// TooBusy: the machine stood still in every round. The short form, which other work may run beside, then proves nothing and says so.
class TooBusy extends Error {}

const pause = (ms) => new Promise((resolve) => setTimeout(resolve, ms));
const mean = (x) => x.reduce((a, b) => a + b, 0) / x.length;
const middle = (x) => [...x].sort((a, b) => a - b)[x.length >> 1];
const spread = (x) => Math.sqrt(mean(x.map((v) => (v - mean(x)) ** 2)));

// The sound server's sink without hardware counts its time in whole
// microseconds a block. WebKitGTK sends blocks of 128 frames and does not
// follow the sink: at 48000 frames a second the sink loses two thirds of a
// microsecond a block and runs away from it by 0.25 ms a second. A frame of
// 20 µs loses nothing. The others follow the sink, and tell their delay best
// where nothing is resampled.
const rates = { webkit: 50000 };

let desktop, recorder;
async function begin(t, engine) {
  desktop = await desk.start(rates[engine]);
  recorder = desk.record(desktop);
  t.after(async () => { recorder.stop(); await desktop.stop(); });
}

const query = (tempo, more = {}) => '?' + new URLSearchParams({
  passage: 'mordent', bars: '1-2', hand: 'right', play: 'right', instrument: 'click', beat: 'off', countin: '1', tempo, ...more });

// truth says when context frames were really heard, in the page's time, by
// what the recorder has: its onsets are laid over those of the ear in the page.
function truth(seen) {
  const ms = (f) => f / seen.rate * 1000;
  const recorded = recorder.onsets().map((at) => at - seen.origin);
  const line = lineOf(seen.lines);
  let best = { count: 0, off: NaN };
  for (const first of seen.onsets.slice(0, 4)) {
    for (const at of recorded) {
      const off = at - ms(first);
      if (Math.abs(off - line) > 400) continue;
      const near = recorded.filter((r) => r > ms(seen.onsets[0]) + off - 20);
      const count = seen.onsets.filter((f) => near.some((r) => Math.abs(r - off - ms(f)) <= 5)).length;
      if (count > best.count) best = { count, off };
    }
  }
  const heard = (f) => {
    const at = recorded.reduce((a, r) => (Math.abs(r - best.off - ms(f)) < Math.abs(a - best.off - ms(f)) ? r : a), Infinity);
    return Math.abs(at - best.off - ms(f)) <= 8 ? at : NaN;
  };
  return { heard, share: best.count / seen.onsets.length, beyond: middle(seen.onsets.map((f) => heard(f) - ms(f)).filter((x) => !Number.isNaN(x))) - line };
}

// round plays one round and returns what was reported and what was done.
async function round(page, { delay, pattern, skip }) {
  await page.call('arm', { delay, codes: ['KeyJ', 'KeyK'], pattern, skip });
  return play(page);
}

async function play(page) {
  const timers = monitorEventLoopDelay({ resolution: 10 });
  timers.enable();
  await page.call('click', 'tap');
  await page.state('counting', 'tapping');
  await page.state('result', { timeout: 90_000 });
  timers.disable();
  const seen = await page.call('read');
  const t = truth(seen);
  const stood = stall({ ...seen, timer: timers.max / 1e6 - 10, since: seen.now - 1000 * (seen.onsets.at(-1) - seen.onsets[0]) / seen.rate - 3000 });
  const did = seen.taps.map(([f, at]) => at - t.heard(f)).filter((x) => !Number.isNaN(x));
  const lineAt = (at) => lineOf(seen.lines.filter(([x]) => Math.abs(x - at) < 1500));
  const byLine = seen.taps.map(([f, at]) => at - lineAt(at) - f / seen.rate * 1000);
  return { ...told(seen.result), seen, beyond: t.beyond, share: t.share, did, byLine, stood, wrong: seen.wrong };
}

// unsteady says how the machine stood still in a round, "" when it did not.
// What the page itself says of holes and jumps is no reason: they may be its own.
function unsteady(r) {
  if (r.stood) return r.stood;
  if (r.share < 0.9) return `the recorder has only ${Math.round(r.share * 100)} % of the onsets in their places`;
  if (spread(r.did) > 4) return `the sound server moved by ${spread(r.did).toFixed(1)} ms while the robot tapped evenly`;
  return '';
}

// learn plays a round without a tap: the pattern, and how much later than its
// page believes the recorder hears this engine.
async function learn(t, page) {
  for (let i = 1; ; i++) {
    await page.call('rest');
    const r = await play(page);
    if (r.jumps + r.gaps === 0 && r.share >= 0.9) return { pattern: r.seen.onsets.map((f) => f - r.seen.onsets[0]), skip: r.seen.onsets.length - r.wanted, beyond: r.beyond };
    const why = unsteady(r);
    assert.notEqual(why, '', `${r.jumps} jumps and ${r.gaps} holes in a round, and the machine did not stand still`);
    if (i === TRIES) throw new TooBusy(`no steady round to learn from: ${why}`);
    t.diagnostic(`again: ${why}`);
  }
}

// faults lists what the program reported wrongly; the recorder is the judge.
function faults(r) {
  const off = r.mean - mean(r.did), added = Math.sqrt(Math.max(0, r.spread ** 2 - spread(r.did) ** 2));
  const wrong = [...r.wrong];
  if (r.hit !== r.wanted || r.extra !== 0) wrong.push(`${r.hit} of ${r.wanted} hit, ${r.extra} extra`);
  if (!(Math.abs(off) <= NEAR)) wrong.push(`off by ${off.toFixed(1)} ms`);
  if (!(added < 3)) wrong.push(`${added.toFixed(1)} ms of spread added`);
  return { off, added, wrong };
}

// measure goes through the page's own measuring as somebody whose taps come
// LEAD early, and keeps what it finds.
async function measure(t, page) {
  for (let i = 1; ; i++) {
    await page.call('click', 'measure');
    await page.call('arm', { delay: LEAD, codes: ['KeyJ'], pattern: Array.from({ length: 22 }, (_, n) => n * 28800), skip: 0 });
    await page.call('click', 'calibrate-start');
    let m;
    for (let n = 0; n < 60; n++) {
      await pause(1000);
      m = await page.call('measured');
      if (m.start) break;
    }
    if (m.keep) {
      t.diagnostic(`measured: taps ${m.offsetMs} ± ${m.errorMs} ms beside the clicks, ${m.pictureMs} ms after the flashes`);
      await page.call('click', 'calibrate-keep');
      await pause(500);
      t.diagnostic(await page.call('delay'));
      return m;
    }
    await page.call('click', 'calibrate-close');
    if (i === TRIES) throw new TooBusy(`not to be measured: ${m.text}`);
    t.diagnostic(`again: ${m.text}`);
  }
}

// load keeps the page's main thread busy. A browser's first start may lay the
// page anew while it installs what works offline; then the order is lost once.
async function load(page) {
  try {
    await page.call('load', busy, 50);
  } catch {
    await page.state('ready');
    await page.call('load', busy, 50);
  }
}

for (const engine of chosen) {
  test(`${engine}: measured, then tapped by a robot`, { timeout: 9 * PATIENCE, skip: process.env.AGREMENS_ROBOT === '0' }, async (t) => {
    await begin(t, engine);
    const page = await open(engine, desktop, query(96));
    try {
      await page.state('ready');
      await load(page);
      const { beyond } = await learn(t, page);
      t.diagnostic(`heard ${beyond.toFixed(1)} ms later than the browser tells`);
      const extra = Math.abs(beyond) > 15 ? beyond : 0;
      await page.call('later', extra);
      await pause(3500); // the robot's own line follows
      await page.call('follow', 30);
      const m = await measure(t, page);
      assert.ok(Math.abs(m.offsetMs - LEAD - extra) < 8, `the measuring found ${m.offsetMs}, the taps came ${LEAD + extra}`);
      const rows = [];
      for (const tempo of tempi) {
        await page.goto(query(tempo));
        await page.state('ready');
        await load(page);
        await page.call('later', extra);
        const learned = await learn(t, page);
        for (const delay of delays) {
          for (let i = 1; ; i++) {
            const r = await round(page, { delay, ...learned });
            const { off, added, wrong } = faults(r);
            const row = `${engine} ${tempo} a minute, ${delay} ms: tapped at ${mean(r.did).toFixed(1)} ± ${spread(r.did).toFixed(1)}, by the page's own line ${mean(r.byLine).toFixed(1)}; reported ${r.mean.toFixed(1)} ± ${r.spread.toFixed(1)}, ${r.hit} of ${r.wanted}`;
            t.diagnostic(row);
            if (wrong.length === 0) {
              rows.push({ off, added });
              break;
            }
            const why = unsteady(r);
            assert.notEqual(why, '', `${row}: ${wrong.join('; ')}; and the machine did not stand still`);
            if (i === TRIES) throw new TooBusy(`${row}: ${wrong.join('; ')}; but ${why}`);
            t.diagnostic(`again, because ${why}: ${wrong.join('; ')}`);
          }
        }
      }
      t.diagnostic(`largest error ${Math.max(...rows.map((x) => Math.abs(x.off))).toFixed(1)} ms, largest spread added ${Math.max(...rows.map((x) => x.added)).toFixed(1)} ms`);
    } catch (error) {
      if (long || !(error instanceof TooBusy)) throw error;
      t.skip(error.message);
    } finally {
      await page.close();
    }
  });

  test(`${engine}: ${soak} seconds of sound without a hole while the staff scrolls`, { timeout: (soak + 120) * 1000, skip: soak === 0 }, async (t) => {
    await begin(t, engine);
    for (let i = 1; ; i++) {
      const page = await open(engine, desktop, query(104, { passage: 'trill', bars: '1-2', play: 'both', countin: 0 }));
      try {
        await page.state('ready');
        await load(page);
        await page.call('check', 'repeat', true);
        await page.call('click', 'listen');
        await page.state('listening', { timeout: 30_000 });
        await pause(4000); // devices may drop frames while they start
        await page.call('rest');
        const { now: began } = await page.call('read');
        const machine = monitorEventLoopDelay({ resolution: 10 });
        machine.enable();
        await pause(soak * 1000);
        machine.disable();
        const { onsets, holes, rate, wrong, ...seen } = await page.call('read');
        const stood = stall({ ...seen, timer: machine.max / 1e6 - 10, since: began });
        const steps = distances(onsets), n = turns(steps);
        const lost = torn(steps, n || 1);
        t.diagnostic(`${onsets.length} onsets in ${((onsets.at(-1) - onsets[0]) / rate).toFixed(0)} s, ${n} to a turn; torn: ${n ? lost.length + holes.length : 'not to tell'}${stood && `; ${stood}`}`);
        if (lost.length + holes.length > 0 && !long && stood !== '') {
          if (i === TRIES) return t.skip(stood);
          t.diagnostic(`again, because ${stood}: ${lost.join('; ')}`);
          continue;
        }
        assert.equal(await page.call('state'), 'listening');
        assert.ok((onsets.at(-1) - onsets[0]) / rate > soak - 10, 'it sounded to the end');
        assert.ok(n > 0, 'the passage repeats');
        assert.deepEqual([...lost, ...holes], []);
        assert.deepEqual(wrong, []);
        return;
      } finally {
        await page.close();
      }
    }
  });
}
