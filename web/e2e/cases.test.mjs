// The sheet of small engraving cases, as the SVG drawer makes it and the
// browser shows it, is the golden picture that was looked at case by case.
// AGREMENS_UPDATE=1 writes the picture anew.
import { test, before, after } from 'node:test';
import assert from 'node:assert/strict';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { launch } from './browser.mjs';

const path = (name) => fileURLToPath(new URL(`../../game/engrave/testdata/${name}`, import.meta.url));

let browser;
before(async () => { browser = await launch(); });
after(async () => { await browser?.close(); });

test('the sheet of cases looks as it did', async () => {
  const svg = readFileSync(path('cases.svg'), 'utf8');
  const [, width, height] = /width="([\d.]+)" height="([\d.]+)"/.exec(svg).map(Number);
  const page = await browser.newPage({ viewport: { width: Math.ceil(width), height: Math.ceil(height) } });
  await page.setContent('<body style="margin:0;background:#fff"></body>');
  await page.evaluate((svg) => { document.body.innerHTML = svg; }, svg);
  const now = await page.screenshot();
  if (process.env.AGREMENS_UPDATE) writeFileSync(path('cases.png'), now);
  assert.ok(existsSync(path('cases.png')), 'there is a golden picture');
  const golden = readFileSync(path('cases.png'));
  const { ink, different } = await page.evaluate(async ([a, b]) => {
    const pixels = async (data) => {
      const img = new Image();
      img.src = 'data:image/png;base64,' + data;
      await img.decode();
      const canvas = Object.assign(document.createElement('canvas'), { width: img.width, height: img.height });
      const context = canvas.getContext('2d');
      context.drawImage(img, 0, 0);
      return context.getImageData(0, 0, img.width, img.height);
    };
    const [x, y] = [await pixels(a), await pixels(b)];
    let ink = 0, different = x.width === y.width && x.height === y.height ? 0 : Infinity;
    for (let i = 0; i < x.data.length; i += 4) {
      if (x.data[i] < 128) ink++;
      // Smoothing differs a little between versions of a browser.
      if (Math.abs(x.data[i] - y.data[i]) > 80) different++;
    }
    return { ink, different };
  }, [now.toString('base64'), golden.toString('base64')]);
  assert.ok(ink > 20_000, `${ink} dark pixels`);
  assert.ok(different <= ink / 1000, `${different} of ${ink} dark pixels differ`);
  await page.close();
});
