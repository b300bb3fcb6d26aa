// Two windows on one device: whatever is opened, decided and undone in either,
// in any order, both keep all of it.
import { test, before, after } from 'node:test';
import assert from 'node:assert/strict';
import { launch, serve, open, state, until, reaching } from './browser.mjs';

const SEED = Number(process.env.AGREMENS_SEED || 1);
const STEPS = Number(process.env.AGREMENS_STEPS || 200);
const PIECES = 8; // fewer than a device keeps

let browser, server;
before(async () => { server = await serve(); browser = await launch(); });
after(async () => { await browser?.close(); server?.close(); });

// A linear congruential generator (constants of Numerical Recipes): the same
// seed gives the same walk.
let random = SEED;
const roll = (n) => { random = (random * 1664525 + 1013904223) % 2 ** 32; return Math.floor(random / 2 ** 32 * n); };

const tune = (n) => `X:1\nT:Piece ${n}\nC:J. S. Bach\nM:4/4\nL:1/4\nQ:1/4=72\nK:C\n!trill!c4 | !trill!d4 | !trill!e4 | !trill!f4 |]\n`;

test(`${STEPS} steps in two windows leave the union`, async (t) => {
  t.diagnostic(`seed ${SEED}`);
  const { page: one, wrong, close } = await open(browser, server.url, '?passage=turn');
  await state(one, 'ready');
  const two = await one.context().newPage();
  reaching(two);
  two.on('pageerror', (e) => wrong.push(e.message));
  await two.goto(server.url);
  await state(two, 'ready');
  const windows = [{ page: one, piece: null }, { page: two, piece: null }];
  const opened = new Set(), decided = new Map(); // of each piece and sign, the choice

  const title = (page) => page.evaluate(() => document.getElementById('title-text').textContent);
  // A way's key: only the first few ways are shown, so that its place moves.
  const chosen = (page) => page.getAttribute('#choices button[aria-pressed=true]', 'data-key');
  const heading = (page) => page.evaluate(() => document.getElementById('sign-name').textContent);
  const sign = async (page, n) => { // goes to the sign of measure n + 1
    await page.fill('#bars', '1-4');
    await page.dispatchEvent('#bars', 'change');
    for (let i = 0; i < 5; i++) {
      if (new RegExp(`\\b(bar|measure) ${n + 1}\\b`, 'i').test(await heading(page))) return;
      await page.click('#next-sign');
    }
    throw new Error(`sign ${n + 1} was not found: ${await heading(page)}`);
  };

  for (let i = 0; i < STEPS; i++) {
    const w = windows[roll(2)], { page } = w;
    switch (w.piece === null ? 0 : roll(4)) {
      case 0: { // open a piece, new or known
        const n = roll(PIECES);
        await page.setInputFiles('#open', { name: `piece-${n}.abc`, mimeType: 'text/plain', buffer: Buffer.from(tune(n)) });
        await until(() => title(page), (now) => now === `Piece ${n}`);
        w.piece = n;
        opened.add(n);
        break;
      }
      case 1: // change a setting
        await page.fill('#bars', ['1-2', '2-3', '1-4'][roll(3)]);
        await page.dispatchEvent('#bars', 'change');
        break;
      default: { // decide for a sign; the windows share the piece's signs between them
        const at = 2 * windows.indexOf(w) + roll(2);
        await sign(page, at);
        const choices = await page.locator('#choices button').count();
        await page.locator('#choices button').nth(roll(choices)).click();
        decided.set(`${w.piece} ${at}`, await chosen(page));
      }
    }
  }

  const fresh = await one.context().newPage();
  reaching(fresh);
  fresh.on('pageerror', (e) => wrong.push(e.message));
  await fresh.goto(server.url);
  await state(fresh, 'ready');
  const kept = await fresh.$$eval('#passages option', (all) => all.map((o) => o.textContent));
  for (const n of opened) assert.ok(kept.includes(`piece-${n}.abc`) || kept.some((k) => k.includes(`iece ${n}`) || k.includes(`piece-${n}`)), `piece ${n} is kept: ${kept}`);
  for (const n of opened) {
    await fresh.setInputFiles('#open', { name: `piece-${n}.abc`, mimeType: 'text/plain', buffer: Buffer.from(tune(n)) });
    await until(() => title(fresh), (now) => now === `Piece ${n}`);
    for (const [place, choice] of decided) {
      const [piece, at] = place.split(' ').map(Number);
      if (piece !== n) continue;
      await sign(fresh, at);
      assert.equal(await chosen(fresh), choice, `piece ${n}, sign ${at + 1}`);
    }
  }
  t.diagnostic(`${opened.size} pieces, ${decided.size} decisions`);
  assert.ok(decided.size > 10);
  assert.deepEqual(wrong, []);
  await close();
});
