// On paper: the practice sheet of eight bars on one side, the answers four to
// a side, on A4 and on Letter. The pages lie in .check/screens for eyes.
import { before, after } from 'node:test';
import assert from 'node:assert/strict';
import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { join } from 'node:path';
import { launch, serve, open, state } from './browser.mjs';
import { largeScore } from './large.mjs';
import { test, later } from './tier.mjs';

const out = process.env.AGREMENS_OUT ?? fileURLToPath(new URL('../../.check/screens', import.meta.url));
mkdirSync(out, { recursive: true });

let browser, server;
before(async () => { server = await serve(); browser = await launch(); });
after(async () => { await browser?.close(); server?.close(); });

const WORDS = 'Slowly at first, and together with the left hand. The small notes get the beat. Three times a day, never faster than they stay even.';
const margin = { top: '12mm', bottom: '12mm', left: '14mm', right: '14mm' }; // as the style asks for

// sides counts the pages of a PDF as Chromium writes it.
const sides = (pdf) => pdf.toString('latin1').match(/\/Type\s*\/Page\b/g).length;

for (const [passage, when] of [['mordent', test], ['trill', later], ['turn', later], ['appoggiatura', later]]) {
  when(`eight bars of ${passage} on one side`, async (t) => {
    const { page, wrong, close } = await open(browser, server.url, `?passage=${passage}&bars=1-8`);
    await state(page, 'ready');
    await page.evaluate(() => { window.print = () => {}; document.getElementById('place-send').click(); });
    await page.fill('#task-words', WORDS);
    await page.fill('#task-home', 'https://practice.example.org/a/folder/');
    await page.dispatchEvent('#task-home', 'change');
    for (const paper of ['print', 'answers']) {
      await page.evaluate((paper) => document.getElementById(`task-${paper}`).click(), paper);
      await page.waitForFunction((what) => document.documentElement.dataset.print === what, paper === 'print' ? 'sheet' : 'answers');
      const rows = await page.locator('#answers article').count();
      for (const format of ['A4', 'Letter']) {
        const pdf = await page.pdf({ path: join(out, `paper-${passage}-${paper}-${format}.pdf`), format, margin });
        t.diagnostic(`${paper}, ${format}: ${sides(pdf)}`);
        assert.equal(sides(pdf), paper === 'print' ? 1 : Math.ceil(rows / 4), `${paper} on ${format}`);
      }
    }
    const text = (await page.textContent('#print')).replaceAll('\u00a0', ' ');
    for (const part of [WORDS, 'Tempo: ☐ ', 'Rounds: ☐ ', 'Stop if anything hurts']) assert.ok(text.includes(part), part);
    assert.ok(await page.locator('#print-square svg').count(), 'the square code');
    assert.ok(await page.locator('#print-music svg').count(), 'the line and the line as played');
    assert.deepEqual(wrong, []);
    await close();
  });
}

later('a long passage on sides that follow its sheet, each whole', async (t) => {
  const { page, wrong, close } = await open(browser, server.url);
  await state(page, 'ready');
  const was = await page.textContent('#title-text');
  await page.setInputFiles('#open', { name: 'long.musicxml', mimeType: 'application/xml', buffer: Buffer.from(largeScore(90, 8)) });
  await page.waitForFunction((was) => document.getElementById('title-text').textContent !== was, was);
  await state(page, 'ready');
  await page.fill('#bars', '1-90');
  await page.dispatchEvent('#bars', 'change');
  await page.waitForFunction(() => /1.90/.test(document.getElementById('staff-text').textContent));
  await page.evaluate(() => { window.print = () => {}; document.getElementById('place-send').click(); document.getElementById('task-print').click(); });
  await page.waitForFunction(() => document.documentElement.dataset.print === 'sheet');
  const music = await page.locator('#print-sides svg').count();
  assert.ok(music > 1, `${music} sides`);
  assert.match(await page.textContent('#print-music'), /pages of its own/);
  for (const format of ['A4', 'Letter']) {
    const pdf = await page.pdf({ path: join(out, `paper-long-${format}.pdf`), format, margin });
    t.diagnostic(`${format}: ${sides(pdf)}`);
    assert.equal(sides(pdf), 1 + music, format);
  }
  await page.evaluate(() => document.getElementById('task-answers').click());
  await page.waitForFunction(() => document.documentElement.dataset.print === 'answers');
  assert.ok(!await page.isVisible('#print-sides'));
  assert.deepEqual(wrong, []);
  await close();
});
