// What is brought to the desk without a file: a place from paper, a passage
// that is typed; and that all of it is kept.
import { before, after } from 'node:test';
import assert from 'node:assert/strict';
import { launch, serve, open, state, message, PATIENCE } from './browser.mjs';
import { test, later } from './tier.mjs';

let browser, server, desk; // the desk is one that several tests go on with
before(async () => {
  server = await serve();
  browser = await launch();
  desk = await open(browser, server.url, '?countin=0');
  await state(desk.page, 'ready');
});
after(async () => { await browser?.close(); server?.close(); });

const bring = async (page, id) => { await page.click('#' + id); };
const drawn = (page, id) => page.evaluate((id) => document.querySelector(`#${id} svg`)?.outerHTML ?? '', id);
const sounds = (page, since = 0) => page.waitForFunction((n) => window.__robot.onsets.length > n, since, { timeout: PATIENCE });
const passages = (page) => page.evaluate(() => [...document.querySelectorAll('#passages option')].map((o) => [o.value, o.textContent]));

test('the staff follows the form, and what cannot be is said', async () => {
  const { page, wrong } = desk;
  await bring(page, 'bring-paper');
  const pictures = new Set([await drawn(page, 'paper-staff')]);
  for (const deed of [
    () => page.click('#paper-higher'), () => page.selectOption('#paper-value', 'half'), () => page.click('#paper-signs [data-key=mordent]'),
    () => page.selectOption('#paper-key', '-3 minor'), () => page.selectOption('#paper-accidental', 'sharp'), () => page.selectOption('#paper-beneath', 'triplets'),
  ]) {
    const before = await drawn(page, 'paper-staff');
    await deed();
    await page.waitForFunction((before) => document.querySelector('#paper-staff svg')?.outerHTML !== before, before);
    pictures.add(await drawn(page, 'paper-staff'));
  }
  assert.equal(pictures.size, 7);
  await page.selectOption('#paper-metre', '3/8');
  await page.selectOption('#paper-value', 'whole');
  await page.waitForFunction(() => /shorter value/.test(document.getElementById('paper-said').textContent));
  assert.ok(await page.isDisabled('#paper-listen'));
  await page.reload();
  await state(page, 'ready');
  await bring(page, 'bring-paper');
  assert.equal(await page.inputValue('#paper-key'), '-3 minor', 'the form survives a reload');
  await page.keyboard.press('Escape');
  assert.deepEqual(wrong, []);
});

const TEXT = `T:Typed here
M:2/4
L:1/4
Q:1/4=100
%%score {R L}
K:C
V:R
Tc2 | B c |]
V:L clef=bass
C, E, | G,2 |]
`;

test('a typed passage: the staff follows, mistakes are marked, nothing is lost', async () => {
  const { page, wrong } = desk;
  await bring(page, 'bring-typed');
  const first = await drawn(page, 'typed-staff');
  assert.notEqual(first, '', 'there is something to begin with');
  await page.fill('#typed-text', TEXT);
  await page.waitForFunction((first) => document.querySelector('#typed-staff svg')?.outerHTML !== first, first);
  const good = await drawn(page, 'typed-staff');

  await page.fill('#typed-text', TEXT.replace('Tc2', 'Tc2 [ce'));
  await page.waitForFunction(() => document.getElementById('typed-said').textContent !== '');
  const said = await page.textContent('#typed-said');
  assert.match(said, /line 8, column \d+/i, said);
  assert.ok(await page.isDisabled('#typed-lay'));
  assert.equal(await page.locator('#typed-line mark').count(), 1, 'the place is marked');
  await page.click('#typed-show');
  const selected = await page.evaluate(() => {
    const e = document.getElementById('typed-text');
    return { focus: document.activeElement === e, line: e.value.slice(0, e.selectionStart).split('\n').length };
  });
  assert.deepEqual(selected, { focus: true, line: 8 });

  await page.keyboard.press('Escape');
  await page.reload();
  await state(page, 'ready');
  await bring(page, 'bring-typed');
  assert.match(await page.inputValue('#typed-text'), /\[ce/, 'what was typed is there, mistake and all');
  await page.fill('#typed-text', TEXT);
  await page.waitForFunction(() => document.getElementById('typed-said').textContent === '');
  assert.equal(await drawn(page, 'typed-staff'), good);
  await page.click('#typed-listen');
  await state(page, 'listening');
  await sounds(page);
  await state(page, 'ready', 'result'); // it is short
  assert.equal(await page.textContent('#title-text'), 'Typed here');
  assert.match(await page.textContent('#sign-name'), /trill/);
  assert.deepEqual(wrong, []);
});

test('what was found is said in a line; of several parts one is chosen, or two for the hands', async () => {
  const part = (id, step) => `<part id="${id}"><measure number="1"><attributes><divisions>1</divisions></attributes>
    <note><pitch><step>${step}</step><octave>4</octave></pitch><duration>4</duration><type>whole</type>
    <notations><slur type="start" number="1"/><ornaments><trill-mark/></ornaments></notations></note></measure></part>`;
  const score = `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Flute</part-name></score-part>
    <score-part id="P2"><part-name>Oboe</part-name></score-part></part-list>${part('P1', 'C')}${part('P2', 'A')}</score-partwise>`;
  const { page, wrong } = desk;
  const about = (pattern) => page.waitForFunction((p) => { // what is seen, not what stands hidden in the markup
    const e = document.getElementById('about');
    return e.getClientRects().length > 0 && new RegExp(p).test(e.innerText);
  }, pattern);
  assert.equal(await page.isVisible('#about'), false, 'nothing was found in a passage of ours');
  await page.setInputFiles('#open', { name: 'two.musicxml', mimeType: 'text/xml', buffer: Buffer.from(score) });
  await page.waitForFunction(() => !document.getElementById('part-field').hidden);
  await about('^Of 2 parts (Flute|Oboe) was read: 1 bar, 1 trill\\. The file gives no tempo in numbers: it is assumed\\. The file names no composer\\. 1 thing was left out or guessed\\.$');
  await page.click('#not-drawn summary');
  assert.equal((await page.innerText('#not-drawn-list')).trim(), 'slurs without a second note: 1');
  const said = await page.textContent('#staff-text');
  const other = await page.inputValue('#part') === 'P2' ? 'P1' : 'P2';
  await page.selectOption('#part', other);
  await page.waitForFunction((said) => document.getElementById('staff-text').textContent !== said, said);
  await about(`^Of 2 parts ${other === 'P1' ? 'Flute' : 'Oboe'} was read: 1 bar, 1 trill\\.`);
  await page.selectOption('#part', { label: 'right hand Flute, left hand Oboe' });
  await about('^Of 2 parts Flute \\+ Oboe was read: 1 bar, 2 trills\\.');
  await page.reload();
  await state(page, 'ready');
  assert.equal(await page.inputValue('#part'), 'P1+P2');
  await about('^Of 2 parts Flute \\+ Oboe was read: 1 bar, 2 trills\\.');
  await page.selectOption('#passages', 'turn');
  await page.waitForSelector('#about', { state: 'hidden' });
  assert.equal(await page.isVisible('#not-drawn'), false);
  assert.equal(await page.isVisible('#part-field'), false);
  assert.deepEqual(wrong, []);
});

// A newcomer reads each label before acting: a second and a half is counted,
// not waited, for every action, and each letter is typed by itself. The first
// place sets everything that stands on the page; the second changes the note
// and the sign.
const THINKS = 1500; // ms
later('a place from paper sounds within a minute, the next within thirty seconds', async (t) => {
  const { page, wrong, close } = await open(browser, server.url);
  await state(page, 'ready');
  let actions = 0;
  const act = async (deed) => { await deed(); actions++; };
  const place = async (deeds) => {
    const heard = await page.evaluate(() => window.__robot.onsets.length);
    const began = Date.now();
    actions = 0;
    await act(() => page.click('#open-piece'));
    await act(() => page.click('#bring-paper'));
    for (const deed of deeds) await act(deed);
    await act(() => page.click('#paper-listen'));
    await state(page, 'listening', { timeout: PATIENCE });
    await sounds(page, heard);
    return { seconds: (Date.now() - began + actions * THINKS) / 1000, actions };
  };
  const choose = (field, value) => () => page.selectOption('#paper-' + field, value);
  const sign = (key) => () => page.click(`#paper-signs [data-key="${key}"]`);
  const first = await place([
    sign('short-trill'), choose('note', 'E5'), choose('value', 'quarter'), () => page.check('#paper-dot'),
    choose('before', '1'), () => page.check('#paper-slur-before'), choose('after', '-1'),
    choose('key', '-1 major'), choose('metre', '4/4'), () => page.locator('#paper-tempo').pressSequentially('72', { delay: 300 }),
    choose('year', '1715'), choose('beneath', 'eighths'),
  ]);
  t.diagnostic(`first place: ${first.actions} actions, ${first.seconds.toFixed(1)} s to the first sound, ${THINKS} ms of thought counted for each`);
  assert.ok(first.seconds < 60, `${first.seconds} s`);
  await page.click('#stop');
  await state(page, 'ready', 'result');
  const second = await place([sign('turn'), choose('note', 'C5'), choose('before', '-1'), choose('after', '1'), choose('value', 'half'), () => page.uncheck('#paper-dot')]);
  t.diagnostic(`second place: ${second.actions} actions, ${second.seconds.toFixed(1)} s`);
  assert.ok(second.seconds < 30, `${second.seconds} s`);
  assert.equal(await page.inputValue('#paper-metre'), '4/4', 'the form is as it was');
  assert.match(await page.textContent('#composer-text'), /1715/);
  assert.deepEqual(wrong, []);
  await close();
});

later('one touch of the form plays; every opened, sketched and typed passage is kept with its decisions', async () => {
  const { page, wrong, close } = await open(browser, server.url, '?countin=0');
  await state(page, 'ready');
  const file = { name: 'mine.abc', mimeType: 'text/plain', buffer: Buffer.from('X:1\nT:From a file\nM:2/4\nL:1/4\nK:G\nTB2 | A2 |]\n') };
  await page.setInputFiles('#open', file);
  await page.waitForFunction(() => document.getElementById('title-text').textContent === 'From a file');
  await page.locator('#choices button').nth(1).click();
  const decided = await page.textContent('#sign-notes');
  const id = await page.inputValue('#passages');
  await bring(page, 'bring-paper');
  assert.notEqual(await drawn(page, 'paper-staff'), '', 'the two bars are drawn');
  await page.click('#paper-listen');
  await state(page, 'listening');
  await sounds(page);
  assert.equal(await page.textContent('#title-text'), 'Trill on B');
  assert.match(await page.textContent('#sign-name'), /trill/);
  await state(page, 'ready', 'result'); // it is short
  await bring(page, 'bring-typed');
  await page.click('#typed-lay');
  await page.waitForFunction(() => document.getElementById('title-text').textContent === 'My passage');
  await page.reload();
  await state(page, 'ready');
  assert.equal(await page.textContent('#title-text'), 'My passage');
  const own = (await passages(page)).filter(([key]) => key.startsWith('kept-'));
  assert.deepEqual(own.map(([, name]) => name), ['My passage', 'Trill on B', 'mine.abc'], 'the newest first');
  await page.selectOption('#passages', id);
  await page.waitForFunction(() => document.getElementById('title-text').textContent === 'From a file');
  assert.equal(await page.textContent('#sign-notes'), decided, 'the decision is found again');
  await page.goto(server.url + `?passage=${id}`);
  await state(page, 'ready');
  assert.equal(await page.textContent('#title-text'), 'From a file', 'an address opens it too');
  await page.setInputFiles('#open', file);
  await page.waitForTimeout(500);
  assert.equal((await passages(page)).filter(([, name]) => name === 'mine.abc').length, 1, 'the same file is kept once');
  assert.deepEqual(wrong, []);
  await close();
});

later('a full storage is said, and nothing on the desk is lost', async () => {
  const { page, close } = await open(browser, server.url);
  await state(page, 'ready');
  await page.evaluate(() => {
    // Fill what is left, to the last letter.
    for (let size = 1 << 21; size >= 1; size >>= 1) {
      try { for (let i = 0; ; i++) localStorage.setItem(`fill ${size} ${i}`, 'x'.repeat(size)); } catch { /* full */ }
    }
  });
  await page.setInputFiles('#open', { name: 'late.abc', mimeType: 'text/plain', buffer: Buffer.from('X:1\nT:Too late\nK:G\nTB2 A2 |]\n') });
  await page.waitForFunction(() => document.getElementById('title-text').textContent === 'Too late');
  assert.match(await message(page), /room|storage/);
  await page.click('#listen');
  await state(page, 'counting', 'listening');
  await close();
});
