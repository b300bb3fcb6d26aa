// The whole lesson loop: a task leaves the teacher's desk as a link, a student
// on another device practises without a network, a report comes back.
import { before, after } from 'node:test';
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { launch, serve, open, state, message, contents, PATIENCE } from './browser.mjs';
import { createRequire } from 'node:module';
import { told } from './robot.mjs';
import { test, later } from './tier.mjs';

// The reader has one number wrong: in version 23 of the code the patterns stand
// at 78, not at 74 (ISO/IEC 18004, table of alignment patterns; zbar reads them).
const jsqr = (await readFile(createRequire(import.meta.url).resolve('jsqr'), 'utf8')).replace('[6, 30, 54, 74, 102]', '[6, 30, 54, 78, 102]');

let browser, server;
before(async () => { server = await serve(); browser = await launch(); });
after(async () => { await browser?.close(); server?.close(); });

const HOME = 'https://practice.example.org/';
const settings = { passage: 'mordent', bars: '1-4', hand: 'right', play: 'right', instrument: 'click', beat: 'off', tempo: '60' };
const query = '?' + new URLSearchParams(settings);

async function openTeacher(q = query) {
  const teacher = await open(browser, server.url, q, { permissions: ['clipboard-read', 'clipboard-write'] });
  await state(teacher.page, 'ready');
  return teacher;
}

// setTask opens the sheet, fills it and returns the link.
async function setTask(page, { words = '', kinds = [], free = [] }) {
  await page.click('#place-send');
  await page.fill('#task-home', HOME);
  await page.dispatchEvent('#task-home', 'change');
  await page.fill('#task-words', words);
  while (await page.$('#task-path button')) await page.click('#task-path button');
  for (const key of kinds) await page.selectOption('#task-step', key);
  for (const i of free) await page.click(`#task-free label:nth-of-type(${i + 1}) input`);
  await page.waitForFunction(() => !document.getElementById('task-copy').disabled);
  await page.click('#task-copy');
  await page.waitForFunction(() => document.getElementById('task-said').textContent.startsWith('Copied'));
  return page.evaluate(() => navigator.clipboard.readText());
}

// more presses what stands behind the three dots of the student's page.
async function more(page, button) {
  if (!await page.isVisible(button)) await page.click('#student-more > summary');
  await page.click(button);
}

test('a task goes out, is practised without a network, and comes back', async (t) => {
  const requests = [];
  const watch = (page) => page.on('request', (r) => requests.push(r.url()));

  const teacher = await openTeacher();
  watch(teacher.page);
  await teacher.page.click('#choices button:nth-of-type(2)');
  const chosen = await teacher.page.textContent('#sign-notes');
  const link = await setTask(teacher.page, { words: 'Slowly, and together with the left hand.', kinds: ['tap', 'piano'] });
  assert.ok(link.startsWith(HOME + '#task='), link);
  t.diagnostic(`the link has ${link.length} letters`);
  await teacher.page.click('#task-show');
  assert.ok(await teacher.page.isVisible('#task-square svg'), 'the square code is shown');
  await teacher.page.screenshot({ path: new URL('../../.check/screens/loop-task.png', import.meta.url).pathname });
  await teacher.page.click('#task-code-close');

  // The student: a fresh device. The network is gone once the page is there.
  const student = await open(browser, server.url, '#' + link.split('#')[1], { permissions: ['clipboard-read', 'clipboard-write'], prepare: watch });
  await state(student.page, 'ready');
  await student.page.waitForFunction(() => navigator.serviceWorker.controller !== null, null, { timeout: PATIENCE });
  await student.page.context().setOffline(true);
  assert.equal(await student.page.getAttribute('html', 'data-page'), 'student');
  assert.equal(await student.page.textContent('#student-words'), 'Slowly, and together with the left hand.');
  assert.equal(await student.page.textContent('#sign-notes'), chosen, 'the decision arrived');
  assert.equal(await student.page.locator('#choices button').count(), 1, 'what is decided cannot be chosen again');
  assert.ok(!(await student.page.isVisible('#tradition')), 'the desk is out of sight');
  await student.page.screenshot({ path: new URL('../../.check/screens/loop-student.png', import.meta.url).pathname });

  // A bar is counted before the round.
  const skip = Number((await student.page.textContent('#staff-text')).match(/(\d+)\/\d+ time/)[1]);
  await student.page.evaluate((plan) => window.__robot.arm(plan), { delay: 0, codes: ['KeyJ', 'KeyK'], pattern: null, skip });
  await more(student.page, '#tap');
  await state(student.page, 'counting', 'tapping');
  await state(student.page, 'result', { timeout: 120_000 });
  const result = told(await student.page.evaluate(() => ({ ...document.getElementById('result').dataset })));
  assert.ok(result.hit > 0, 'the robot tapped');

  // A reload without a network finds the task and its log again.
  await student.page.reload();
  await state(student.page, 'ready');
  assert.equal(await student.page.getAttribute('html', 'data-page'), 'student');

  await more(student.page, '#done');
  await student.page.fill('#last-who', 'Ada');
  await student.page.dispatchEvent('#last-who', 'change');
  // Told twice it counts once.
  for (let i = 0; i < 2; i++) await student.page.click('#last-piano button:has-text("10")');
  await student.page.waitForFunction(() => document.getElementById('last-time').textContent.includes('10 minutes at the piano'));
  assert.match(await student.page.textContent('#last-time'), /^1 day, \d+ minutes? of tapping, 10 minutes at the piano \(student's figure\)\.$/);
  await student.page.click('#last-copy');
  await student.page.waitForFunction(() => document.getElementById('last-said').textContent.startsWith('Copied'));
  const report = await student.page.evaluate(() => navigator.clipboard.readText());
  assert.ok(report.length - server.url.length <= 1000 + '#report='.length, `the report has ${report.length} letters`);
  await student.page.screenshot({ path: new URL('../../.check/screens/loop-done.png', import.meta.url).pathname });
  // Another child at the same tablet, who has only looked on.
  await student.page.fill('#last-who', 'Ben');
  await student.page.dispatchEvent('#last-who', 'change');
  await student.page.waitForFunction(() => document.getElementById('last-time').textContent === 'No round yet.');
  await student.page.click('#last-copy');
  await student.page.waitForFunction((before) => navigator.clipboard.readText().then((text) => text !== before), report);
  const second = await student.page.evaluate(() => navigator.clipboard.readText());

  // Back at the teacher's.
  await teacher.page.goto(report);
  await teacher.page.waitForSelector('#class[open] tbody tr');
  assert.match(await teacher.page.innerText('#class-list'), /Ada, .*: 1 new day\. New in the class\./);
  await teacher.page.click('#class-table tbody button');
  assert.equal(await teacher.page.textContent('#one-name'), 'Ada');
  const card = await teacher.page.innerText('#one-history article');
  assert.match(card, /1 day, .* 10 minutes at the piano \(student's figure\)/);
  assert.match(card, /First round of the day, cold: \d+/);
  assert.match(card, /Ask: /);
  await teacher.page.screenshot({ path: new URL('../../.check/screens/loop-reports.png', import.meta.url).pathname });

  // Several students, as their mails were pasted.
  await teacher.page.click('#one-back');
  await teacher.page.click('#class-paste-show');
  await teacher.page.fill('#class-paste', `Here it is: <${second}>.\nAnd once more ${report}`);
  await teacher.page.click('#class-take');
  await teacher.page.waitForFunction(() => document.querySelectorAll('#class-table tbody tr').length === 2);
  const came = await teacher.page.locator('#class-list li').allInnerTexts();
  assert.match(came[0], /Ben, .* New in the class/);
  assert.match(came[1], /Ada, .* it is here already/, 'the same report twice is one');

  // From the table to the next task in two presses.
  await teacher.page.click('#class-table tbody button:has-text("Ada")');
  await teacher.page.click('#one-next');
  await teacher.page.waitForSelector('#task', { state: 'visible' });
  await teacher.page.waitForFunction(() => document.getElementById('task-words').value === 'Slowly, and together with the left hand.');
  assert.match(await teacher.page.textContent('#task-what'), /bars 1-4/);

  for (const url of requests) assert.ok(url.startsWith(server.url) || url.startsWith('blob:') || url.startsWith('data:'), `a request left the origin: ${url}`);
  // The robot's own ear is not part of what is kept for offline use.
  assert.deepEqual([...teacher.wrong, ...student.wrong.filter((w) => !/ERR_INTERNET_DISCONNECTED|Failed to fetch|__robot/.test(w))], []);
  await student.close();
  await teacher.close();
});

later('what is free is the student’s to choose; a page from this computer offers the file, not the link', async (t) => {
  const teacher = await openTeacher();
  const link = await setTask(teacher.page, { kinds: ['tap'], free: [0] });
  const student = await open(browser, server.url, '#' + link.split('#')[1]);
  await state(student.page, 'ready');
  assert.ok(await student.page.locator('#choices button').count() > 1);
  await more(student.page, '#student-sign');
  await student.page.click('#next-sign');
  assert.equal(await student.page.locator('#choices button').count(), 1);
  await student.page.click('#faster');
  assert.match(await student.page.textContent('#tempo-percent'), /\d+ %/);

  const { page } = teacher;
  await page.fill('#task-home', ''); // as it is on a computer of one's own
  await page.dispatchEvent('#task-home', 'change');
  await page.waitForFunction(() => document.getElementById('task-copy').disabled);
  assert.match(await page.textContent('#task-note'), /own computer/);
  const [download] = await Promise.all([page.waitForEvent('download'), page.click('#task-file')]);
  assert.match(download.suggestedFilename(), /^task-.*\.agremens$/);
  const file = await contents(download);
  t.diagnostic(`the file has ${file.length} bytes`);
  await page.click('#place-read');


  assert.notEqual(await page.getAttribute('html', 'data-page'), 'student');
  await page.setInputFiles('#open', { name: download.suggestedFilename(), mimeType: 'text/plain', buffer: file });
  await page.waitForFunction(() => document.documentElement.dataset.page === 'student');
  await student.close();
  await teacher.close();
});

// read reads the square code in a picture of the screen as a camera would see
// it that is held askew by some degrees.
const read = (page, png, degrees) => page.evaluate(async ({ src, degrees }) => {
  const picture = await createImageBitmap(await (await fetch(src)).blob());
  const side = Math.ceil(Math.hypot(picture.width, picture.height));
  const canvas = new OffscreenCanvas(side, side), c = canvas.getContext('2d');
  c.fillStyle = '#fff';
  c.fillRect(0, 0, side, side);
  c.translate(side / 2, side / 2);
  c.rotate(degrees * Math.PI / 180);
  c.drawImage(picture, -picture.width / 2, -picture.height / 2);
  return jsQR(c.getImageData(0, 0, side, side).data, side, side)?.data ?? '';
}, { src: 'data:image/png;base64,' + png.toString('base64'), degrees });

later('the longest report is one square code, and read off the screen of a tablet', async (t) => {
  const { page, close } = await open(browser, server.url, '?passage=trill', { size: { width: 768, height: 1024 }, deviceScaleFactor: 2, hasTouch: true, isMobile: true, bypassCSP: true, permissions: ['clipboard-read', 'clipboard-write'] });
  await state(page, 'ready');
  await page.evaluate(() => document.getElementById('place-send').click());
  await page.fill('#task-words', 'Übe es zuerst langsam, dann jeden Tag ein wenig schneller; nie schneller, als es gleichmäßig bleibt.');
  await page.click('#task-try');
  await page.waitForFunction(() => document.documentElement.dataset.page === 'student');
  await page.evaluate(() => {
    const id = decodeURIComponent(/^passage (.*)$/m.exec(localStorage.getItem('agremens.desk'))[1]);
    const today = Math.floor(Date.now() / 864e5);
    let text = 'agremens-diary 1\nplayer\tMaximiliane-Friederike-C\t\t\t\n';
    for (let day = today - 60; day < today; day++) {
      for (let n = 0; n < 7; n++) {
        const late = 40 + (day * 7 + n * 13) % 90;
        text += ['round', day, 900 + n, 'Maximiliane-Friederike-C', id, 'An Air for Trills', '1-8', 'tap', 'glass', 'right', 41 + (day * 31 + n) % 37, 72, 173,
          24, 23, 1, 0, -12, 33, `${late},${late + 3}`, '0.1', (day + n) % 3 ? 'tu' : 'ctu', 'late-start'].join('\t') + '\n';
      }
      text += ['piano', day, 1000, 'Maximiliane-Friederike-C', id, 'An Air for Trills', 10 + day % 29].join('\t') + '\n';
    }
    localStorage.setItem('agremens.diary', text);
  });
  await page.reload();
  await state(page, 'ready');
  await more(page, '#done');
  await page.fill('#last-who', 'Maximiliane-Friederike-C');
  await page.dispatchEvent('#last-who', 'change');
  await page.waitForFunction(() => /^[2-9]\d? days/.test(document.getElementById('last-time').textContent));
  await page.click('#last-copy');
  await page.waitForFunction(() => document.getElementById('last-said').textContent.startsWith('Copied'));
  const report = await page.evaluate(() => navigator.clipboard.readText());
  const letters = report.split('#report=')[1];
  t.diagnostic(`${letters.length} letters; ${await page.textContent('#last-time')}`);
  assert.ok(letters.length > 800, 'task and log are long enough to fill it');
  assert.ok(letters.length <= 1000);
  await page.evaluate(jsqr);
  await page.click('#last-code > summary');
  const square = page.locator('#last-square');
  await square.scrollIntoViewIfNeeded();
  const box = await square.locator('svg').boundingBox();
  const modules = Number((await square.locator('svg').getAttribute('viewBox')).split(' ')[2]);
  t.diagnostic(`${modules} modules on ${box.width} CSS pixels: ${(box.width / modules).toFixed(2)} a module`);
  const png = await square.screenshot();
  for (const degrees of [0, 3, -7]) assert.equal(await read(page, png, degrees), report, `held ${degrees}° askew`);
  await close();
});

// Malformed links, most as mail and typing make them. Each must be refused in
// words, and what was on the desk stays.
later('malformed links', async (t) => {
  const teacher = await openTeacher();
  const link = await setTask(teacher.page, { kinds: ['tap'] });
  await teacher.page.click('#place-read');
  const letters = link.split('#task=')[1];
  const flip = (i) => letters.slice(0, i) + (letters[i] === 'A' ? 'B' : 'A') + letters.slice(i + 1);
  const kinds = [
    ...[1, 2, 3, 4, 5, 7, 9, 16, 33, 64, 100, 200].map((n) => letters.slice(0, n)),
    ...[1, 2, 3, 5, 10].map((n) => letters.slice(0, -n)),
    ...[0, 1, 2, 3, 4, 6, 8, 12, 20, 50, 99].map(flip),
    letters + 'A', letters + '==', letters + letters, letters.toLowerCase(), letters.toUpperCase(),
    [...letters].reverse().join(''), letters.slice(10), letters.slice(0, 50) + letters.slice(60),
    '%', '%00', '%F0%9F%98%80', '<script>alert(1)</script>', "'\"><img src=x onerror=alert(1)>", '../../etc/passwd',
    'javascript:alert(1)', 'null', 'undefined', '0', '-', '_', 'A'.repeat(100), 'dAH_____', 'A'.repeat(70_000), 'ü'.repeat(50),
  ];
  t.diagnostic(`${kinds.length} kinds`);
  assert.ok(kinds.length >= 50);
  const title = await teacher.page.textContent('#title-text');
  for (const kind of kinds) {
    await teacher.page.evaluate((h) => { document.getElementById('message-close').click(); location.hash = h; }, 'task=' + kind);
    await teacher.page.waitForFunction(() => !document.getElementById('message').hidden, null, { timeout: PATIENCE })
      .catch(() => assert.fail(`nothing was said of “${kind.slice(0, 40)}”`));
    assert.match(await message(teacher.page), /could not be opened/);
    assert.equal(await teacher.page.textContent('#title-text'), title);
  }
  assert.deepEqual(teacher.wrong, []);
  await teacher.close();
});
