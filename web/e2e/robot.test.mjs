// The robot listener taps whole rounds with a known delay; the program must
// report that delay.
import { before, after } from 'node:test';
import assert from 'node:assert/strict';
import { launch, serve } from './browser.mjs';
import { sit, round, learn, unsteady, complaints } from './robot.mjs';
import { test, later } from './tier.mjs';

const TRIES = 6;
let browser, server;
before(async () => { server = await serve(); browser = await launch({ measured: true }); });
after(async () => { await browser?.close(); server?.close(); });

// The tapped hand sounds too, so that the robot hears what it must tap.
const following = { bars: '1-4', instrument: 'click', beat: 'off' };
const mordent = { ...following, passage: 'mordent', hand: 'right', play: 'right', tempo: 72 };
const turn = { ...following, passage: 'turn', hand: 'left', play: 'left', tempo: 96 };

// reports taps a round with each delay on the same page.
async function reports(t, options, delays) {
  const seat = await sit(browser, server.url, options);
  const learned = options.countin ? await learn(seat, (text) => t.diagnostic(text)) : {};
  if (options.countin) assert.ok(learned.skip >= 1, `${learned.skip} sounds counted in`);
  for (const delay of delays) {
    for (let i = 1; ; i++) {
      const r = await round(seat, { delay, ...learned });
      t.diagnostic(`tapped at ${r.did.toFixed(1)} ms, reported ${r.mean} ± ${r.spread} ms, ${r.hit} of ${r.wanted}`);
      const wrong = complaints(r, delay);
      if (wrong.length === 0) break;
      const why = unsteady(r, delay);
      assert.ok(why !== '' && i < TRIES, `at ${delay} ms, ${why || 'and the machine did not stand still'}: ${wrong.join('; ')}`);
      t.diagnostic(`again, because ${why}: ${wrong.join('; ')}`);
    }
  }
  await seat.close();
}

test('mordent, right hand, counted in, tapped early and late', (t) => reports(t, { ...mordent, countin: 1 }, [-40, 40]));
later('mordent, right hand, tapped as it is heard and after it', (t) => reports(t, { ...mordent, countin: 0 }, [0, 40]));
later('turn, left hand, tapped after it', (t) => reports(t, { ...turn, countin: 0 }, [40]));
