// Whether the machine itself stood still. A test of sound proves nothing then
// and may be repeated; whatever else goes wrong is the program's fault.
import { monitorEventLoopDelay } from 'node:perf_hooks';

const TIMER = 60; // ms by which a timer of an idle process is late only on a machine that stands still
const CLOCK = 4;  // ms by which the sound device moves against the clock only when it stands still

// watch begins to watch the machine beside a page with the robot in it;
// stood() says what stood still since, "" when nothing did.
export async function watch(page) {
  await page.evaluate(() => { window.__robot.stood = 0; });
  const since = await page.evaluate(() => performance.now());
  const timers = monitorEventLoopDelay({ resolution: 10 });
  timers.enable();
  return {
    async stood() {
      timers.disable();
      const seen = await page.evaluate(() => ({ stood: window.__robot.stood, lines: window.__robot.lines }));
      return stall({ ...seen, timer: timers.max / 1e6 - 10, since });
    },
  };
}

// stall says what stood still, by how late a timer was, for how long the
// sound's own thread did not run (both in ms), and by the samples of the line
// from sound time to the page's time since some moment.
export function stall({ timer = 0, stood = 0, lines = [], since = 0 }) {
  const found = [];
  if (timer > TIMER) found.push(`a timer was late by ${timer.toFixed(0)} ms`);
  if (stood > 0) found.push(`the sound's thread did not run for ${stood.toFixed(0)} ms`);
  const moved = drift(lines.filter(([at]) => at >= since));
  if (moved > CLOCK) found.push(`the sound device moved by ${moved.toFixed(1)} ms against the clock`);
  return found.join(', ');
}

// drift is how far the line moved, in ms: the largest change from one half
// second to the next.
export function drift(lines) {
  const halves = new Map();
  for (const [at, offset] of lines) {
    const half = Math.floor(at / 500);
    halves.set(half, [...halves.get(half) ?? [], offset]);
  }
  const middles = [...halves.values()].filter((x) => x.length >= 5).map((x) => x.sort((a, b) => a - b)[x.length >> 1]);
  return Math.max(0, ...middles.slice(1).map((m, i) => Math.abs(m - middles[i])));
}
