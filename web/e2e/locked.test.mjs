// Locked down: nothing the page does leaves its own host, and no text from
// outside becomes markup.
import { test, before, after } from 'node:test';
import assert from 'node:assert/strict';
import { launch, serve, open, state } from './browser.mjs';

let browser, server;
before(async () => { server = await serve(); browser = await launch(); });
after(async () => { await browser?.close(); server?.close(); });

const EVIL = `<img src=x onerror="globalThis.stung=1"><script>globalThis.stung=1</script>'"&lt;b&gt;`;
const xml = (s) => s.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;').replace(/"/g, '&quot;');

// Every sheet and menu, in the order in which a visitor might open them.
async function openEverything(page) {
  const opened = [];
  const press = (id) => page.evaluate((id) => document.getElementById(id).click(), id);
  const more = await page.$$eval('#more button', (all) => all.filter((b) => b.id && !b.disabled && b.id !== 'start-day').map((b) => b.id));
  for (const id of [...more, 'open-piece', 'bring-paper', 'bring-typed', 'open-files', 'send-wav', 'open-class', 'elsewhere', 'change-choice']) {
    await press(id);
    await page.waitForFunction(() => document.querySelector('dialog[open]'), null, { timeout: 1000 }).catch(() => {}); // not all open one
    const sheet = await page.evaluate(() => [...document.querySelectorAll('dialog[open]')].at(-1)?.id ?? '');
    if (!sheet) continue;
    opened.push(sheet);
    await page.evaluate(() => {
      for (const e of document.querySelectorAll('dialog[open] details')) e.open = true;
    });
    await page.waitForTimeout(100);
    await page.evaluate(() => { for (const d of document.querySelectorAll('dialog[open]')) d.close(); });
  }
  return opened;
}

test('no request leaves the page’s own host, whatever is opened', async (t) => {
  const requests = [];
  const { page, wrong, close } = await open(browser, server.url, '?passage=mordent&bars=1-2&tempo=100&countin=0',
    { prepare: (page) => page.context().on('request', (r) => requests.push(r.url())) });
  await state(page, 'ready');
  const opened = await openEverything(page);
  t.diagnostic('opened: ' + opened.join(' '));
  for (const sheet of ['glossary', 'change', 'class', 'log', 'paper-sheet', 'typed-sheet']) {
    assert.ok(opened.includes(sheet), `${sheet} was opened`);
  }
  for (const passage of ['trill', 'turn', 'appoggiatura']) {
    await page.selectOption('#passages', passage);
    await page.click('#listen');
    await state(page, 'counting', 'listening');
    await page.waitForTimeout(700);
    await page.click('#stop');
    await state(page, 'ready', 'result');
  }
  await page.waitForTimeout(6000); // the page keeps itself for later
  t.diagnostic(`${requests.length} requests`);
  assert.ok(requests.length > 5);
  for (const url of requests) {
    assert.ok(url.startsWith(server.url) || url.startsWith('blob:' + server.url), `a request left the page's host: ${url}`);
  }
  assert.deepEqual(wrong, []);
  await close();
});

// innocent fails when a text from outside became part of the page.
async function innocent(page, where) {
  await page.waitForTimeout(300);
  assert.equal(await page.evaluate(() => globalThis.stung), undefined, where);
  assert.equal(await page.evaluate(() => document.querySelectorAll('img:not(.seen), body script:not([src^=seen]), [onerror], iframe, object').length), 0, where);
}

const score = (title) => `<?xml version="1.0"?><score-partwise version="4.0"><work><work-title>${xml(title)}</work-title></work>
<identification><creator type="composer">${xml(title)}</creator></identification>
<part-list><score-part id="P1"><part-name>${xml(title)}</part-name></score-part></part-list><part id="P1"><measure number="1">
<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>
<direction><direction-type><words>${xml(title)}</words></direction-type></direction>
<note><pitch><step>C</step><octave>5</octave></pitch><duration>4</duration><type>whole</type><notations><ornaments><trill-mark/></ornaments></notations></note>
</measure></part></score-partwise>`;

test('texts from outside never become markup', async () => {
  const { page, wrong, close } = await open(browser, server.url, '', { permissions: ['clipboard-read', 'clipboard-write'] });
  await state(page, 'ready');
  await page.setInputFiles('#open', { name: `${EVIL.replaceAll('/', '')}.musicxml`, mimeType: 'text/xml', buffer: Buffer.from(score(EVIL)) });
  await page.waitForFunction((t) => document.getElementById('title-text').textContent.includes(t), '<img src=x');
  await innocent(page, 'a score');
  await openEverything(page);
  await innocent(page, 'the sheets about that score');

  // A task with such words, and the report that comes back.
  await page.evaluate(() => document.getElementById('place-send').click());
  await page.fill('#task-home', 'https://practice.example.org/');
  await page.dispatchEvent('#task-home', 'change');
  await page.fill('#task-words', EVIL);
  await page.waitForFunction(() => !document.getElementById('task-copy').disabled);
  await innocent(page, 'the task');
  await page.click('#task-copy');
  await page.waitForFunction(() => document.getElementById('task-said').textContent.startsWith('Copied'));
  const link = await page.evaluate(() => navigator.clipboard.readText());
  await page.evaluate(() => { globalThis.print = () => {}; });
  await page.evaluate(() => document.getElementById('task-print').click());
  await innocent(page, 'the printed sheet');
  await page.evaluate(() => document.querySelector('dialog[open]')?.close());
  await page.evaluate((h) => { location.hash = h; }, link.split('#')[1]);
  await page.waitForFunction(() => document.documentElement.dataset.page === 'student');
  assert.equal(await page.textContent('#student-words'), EVIL);
  await innocent(page, 'the student’s page');
  await page.click('#student-more > summary');
  await page.click('#done');
  await page.fill('#last-who', '<img src=x>');
  await page.dispatchEvent('#last-who', 'change');
  await innocent(page, 'the last page');
  await page.click('#last-copy');
  await page.waitForFunction(() => document.getElementById('last-said').textContent.startsWith('Copied'));
  const report = await page.evaluate(() => navigator.clipboard.readText());
  await page.goto(report);
  await page.waitForSelector('#class[open] tbody tr');
  await innocent(page, 'the teacher’s class');
  await page.click('#class-table tbody button');
  await innocent(page, 'the student in the class');
  await page.evaluate(() => document.querySelector('dialog[open]')?.close());

  await page.setInputFiles('#open', { name: 'x.abc', mimeType: 'text/plain', buffer: Buffer.from(`X:1\nT:${EVIL}\nC:${EVIL}\nM:4/4\nL:1/4\nK:C\n!trill!c4|]\n`) });
  await page.waitForTimeout(1500);
  await innocent(page, 'an ABC tune');
  await page.setInputFiles('#open', { name: 'x.xml', mimeType: 'text/xml', buffer: Buffer.from(`<score-partwise><${EVIL}`) });
  await page.waitForTimeout(800);
  await innocent(page, 'an error about a file');
  await page.goto(server.url + '?passage=' + encodeURIComponent(EVIL));
  await state(page, 'ready');
  await innocent(page, 'the address');
  assert.deepEqual(wrong, []);
  await close();
});
