// The robot listener taps whole rounds with a known delay; the program must
// report that delay.
import { test, before, after } from 'node:test';
import assert from 'node:assert/strict';
import { launch, serve } from './browser.mjs';
import { round, learn, unsteady, complaints } from './robot.mjs';

const TRIES = 6;
let browser, server;
before(async () => { server = await serve(); browser = await launch({ measured: true }); });
after(async () => { await browser?.close(); server?.close(); });

// The tapped hand sounds too, so that the robot hears what it must tap.
const following = { bars: '1-4', instrument: 'click', beat: 'off' };
const rounds = [
  { passage: 'mordent', hand: 'right', tempo: 72, delays: [0, 40, -40] },
  { passage: 'turn', hand: 'left', tempo: 96, delays: [40] },
];

for (const { passage, hand, tempo, delays } of rounds) {
  for (const delay of delays) {
    test(`${passage}, ${hand} hand, ${tempo} a minute, tapped at ${delay} ms`, async (t) => {
      const early = delay < 0;
      const options = { ...following, passage, hand, play: hand, tempo, countin: early ? 1 : 0 };
      const learned = early ? await learn(browser, server.url, options) : {};
      if (early) assert.ok(learned.skip >= 1, `${learned.skip} sounds counted in`);
      for (let i = 1; ; i++) {
        const r = await round(browser, server.url, options, { delay, ...learned });
        t.diagnostic(`tapped at ${r.did.toFixed(1)} ms, reported ${r.mean} ± ${r.spread} ms, ${r.hit} of ${r.wanted}`);
        const why = unsteady(r, delay);
        if (why && i < TRIES) {
          t.diagnostic(`again: ${why}`);
          continue;
        }
        assert.equal(why, '', 'no steady round');
        assert.deepEqual(complaints(r, delay), []);
        return;
      }
    });
  }
}
