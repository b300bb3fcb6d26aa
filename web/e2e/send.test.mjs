// What leaves the desk: every file of the menu is taken from the page and
// read back, by a reader that is not ours where there is one.
import { test, before, after } from 'node:test';
import assert from 'node:assert/strict';
import midi from 'midi-file';
import { launch, serve, open, state, message, contents } from './browser.mjs';

let browser, server, page, wrong;
before(async () => {
  server = await serve();
  browser = await launch();
  ({ page, wrong } = await open(browser, server.url, '?passage=mordent&bars=1-4&instrument=click&beat=off'));
  await state(page, 'ready');
});
after(async () => { await browser?.close(); server?.close(); });

// lay puts bars of the mordents on the desk again.
async function lay(bars) {
  await page.selectOption('#passages', 'mordent');
  await page.fill('#bars', bars);
  await page.press('#bars', 'Enter');
}

// take presses something that makes a file and returns its name and bytes.
async function take(press) {
  const [download] = await Promise.all([page.waitForEvent('download'), press()]);
  return { name: download.suggestedFilename(), data: await contents(download) };
}

const fromMenu = (id) => take(async () => {
  await page.click('#' + id);
});

// shown is what the page says of a passage.
const shown = () => page.evaluate(() => ['title-text', 'sign-name', 'sign-notes', 'staff-text'].map((id) => document.getElementById(id).textContent));

async function reopen({ name, data }) {
  await page.setInputFiles('#open', { name, mimeType: 'application/octet-stream', buffer: data });
  await page.waitForFunction((name) => document.getElementById('status').textContent.includes(name + ' is open'), name);
  assert.equal(await message(page), '');
}

for (const [id, name] of [['send-musicxml-signs', /^[\w-]+\.musicxml$/], ['send-abc', /\.abc$/]]) {
  test(`signs are kept: ${id}`, async () => {
    await lay('1-4');
    const before = await shown();
    const file = await fromMenu(id);
    assert.match(file.name, name);
    assert.ok(file.name.startsWith(before[0].toLowerCase().split(' ')[0]), 'the name is the title\'s');
    await reopen(file);
    await page.fill('#bars', '1-4');
    await page.press('#bars', 'Enter');
    assert.deepEqual(await shown(), before);
    assert.deepEqual(wrong, []);
  });
}

test('written out, no sign is left and the notes are there', async () => {
  await lay('1-4');
  const signs = await page.evaluate(() => document.getElementById('staff-text').textContent.match(/hand, on/g).length);
  assert.ok(signs > 0);
  const file = await fromMenu('send-musicxml');
  assert.match(file.name, /-as-played\.musicxml$/);
  const notes = (xml) => xml.split('<step>').length - 1;
  const plain = await fromMenu('send-musicxml-signs');
  assert.ok(notes(file.data.toString()) >= notes(plain.data.toString()) + 2 * signs, 'two more notes for each mordent');
  await reopen(file);
  assert.match(await page.textContent('#sign-name'), /No ornament/);
  assert.deepEqual(wrong, []);
});

test('MIDI: another reader finds tempo, two hands and the ornaments', async () => {
  await lay('1-8');
  const { name, data } = await fromMenu('send-midi');
  assert.match(name, /\.mid$/);
  const count = (song) => song.tracks.map((t) => t.filter((e) => e.type === 'noteOn' && e.velocity > 0).length);
  const song = midi.parseMidi(data);
  assert.equal(song.header.format, 1);
  assert.ok(song.tracks[0].some((e) => e.type === 'setTempo'));
  const [, right, left] = count(song);
  assert.ok(right > 0 && left > 0, 'a track for each hand');
  await page.uncheck('#ornaments');
  const plain = midi.parseMidi((await fromMenu('send-midi')).data);
  assert.ok(count(plain)[1] < right, 'without ornaments fewer notes sound');
  await page.check('#ornaments');
});

// pcm reads a 16-bit WAV: its seconds, and the seconds of its onsets.
function pcm(data) {
  assert.equal(data.toString('latin1', 0, 4) + data.toString('latin1', 8, 16), 'RIFFWAVEfmt ');
  assert.deepEqual([data.readUInt16LE(20), data.readUInt16LE(22), data.readUInt32LE(24), data.readUInt16LE(34)], [1, 2, 48000, 16]);
  assert.equal(data.readUInt32LE(40), data.length - 44);
  const onsets = [];
  let silent = 48000;
  for (let at = 44; at + 4 <= data.length; at += 4) {
    if (data.readInt16LE(at) === 0) { silent++; continue; }
    if (silent > 240) onsets.push((at - 44) / 4 / 48000);
    silent = 0;
  }
  return { seconds: (data.length - 44) / 4 / 48000, onsets };
}

test('a sound file of the chosen bars, hand, sound and tempo, while the page stays alive', async (t) => {
  await lay('1-4');
  const sound = async (hands, percent) => take(async () => {
      await page.click('#send-wav');
    await page.fill('#sound-percent', String(percent));
    await page.selectOption('#sound-hands', hands);
    assert.equal(await page.inputValue('#sound-instrument'), 'click', 'what is set on the desk');
    await page.evaluate(() => {
      window.__busy = 0;
      let last = performance.now();
      window.__watching = setInterval(() => { const now = performance.now(); window.__busy = Math.max(window.__busy, now - last); last = now; }, 5);
    });
    await page.click('#sound-make');
  });
  const whole = await sound('both', 100);
  t.diagnostic(`longest the page was busy: ${Math.round(await page.evaluate(() => window.__busy))} ms`);
  await page.waitForFunction(() => !document.getElementById('sound-sheet').open);
  assert.match(whole.name, /-bars-1-4\.wav$/);
  const both = pcm(whole.data);
  const slow = await sound('both', 50);
  const half = pcm(slow.data);
  assert.equal(half.onsets.length, both.onsets.length);
  const span = (o) => o.at(-1) - o[0];
  assert.ok(Math.abs(span(half.onsets) - 2 * span(both.onsets)) < 0.02, 'half the tempo, twice as long');
  const left = pcm((await sound('left', 100)).data);
  assert.ok(left.onsets.length < both.onsets.length, 'one hand has fewer onsets');
  assert.deepEqual(wrong, []);
});

test('a sound file that is cancelled is not made', async () => {
  await lay('1-8');
  let made = 0;
  page.on('download', () => made++);
  await page.click('#send-wav');
  await page.fill('#sound-percent', '20');
  // Cancelled from within the page: a busy machine clicks after the sound is made.
  const cancelled = page.evaluate(() => new Promise((resolve) => {
    const progress = document.getElementById('sound-progress');
    new MutationObserver((_, observer) => {
      if (!/\d seconds/.test(progress.textContent)) return;
      observer.disconnect();
      document.getElementById('sound-cancel').click();
      resolve();
    }).observe(progress, { childList: true, characterData: true, subtree: true });
  }));
  await page.click('#sound-make');
  await cancelled;
  await page.waitForFunction(() => document.getElementById('status').textContent.startsWith('No sound file'));
  await page.waitForTimeout(300);
  assert.equal(made, 0);
  assert.equal(await message(page), '');
  assert.deepEqual(wrong, []);
});

test('a picture of the chosen bars is one a browser shows', async () => {
  await lay('2-3');
  const { name, data } = await fromMenu('send-svg');
  assert.match(name, /-bars-2-3\.svg$/);
  const viewer = await browser.newPage();
  await viewer.setContent('<img id="i">');
  const size = await viewer.evaluate(async (src) => {
    const i = document.getElementById('i');
    i.src = src;
    await i.decode();
    const c = document.createElement('canvas');
    c.width = i.naturalWidth; c.height = i.naturalHeight;
    const g = c.getContext('2d');
    g.drawImage(i, 0, 0);
    const px = g.getImageData(0, 0, c.width, c.height).data;
    let ink = 0;
    for (let k = 0; k < px.length; k += 4) if (px[k] < 100 && px[k + 3] > 200) ink++;
    return { width: c.width, height: c.height, ink };
  }, 'data:image/svg+xml;base64,' + data.toString('base64'));
  assert.ok(size.width > 300 && size.height > 100, JSON.stringify(size));
  assert.ok(size.ink > 500, 'there is ink on it');
  await viewer.close();
});
