// The week between lessons: reports of a whole class arrive in every way there
// is, and the table shows what was sent and nothing else.
import { before, after } from 'node:test';
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { launch, serve, open, state, contents, until } from './browser.mjs';
import { test, later } from './tier.mjs';

const root = new URL('../..', import.meta.url);
const today = Math.floor((Date.now() - new Date().getTimezoneOffset() * 60_000) / 864e5);
const shots = (name) => new URL(`../../.check/screens/${name}.png`, import.meta.url).pathname;

// invented returns what the devices of a class send, and what must be found.
const invented = (students, weeks, ...more) => JSON.parse(execFileSync('go',
  ['run', './cmd/check/invented', '-students', students, '-weeks', weeks, '-today', today, ...more], { cwd: root, maxBuffer: 64 << 20 }));

let browser, server, measured;
before(async () => { server = await serve(); browser = await launch(); });
after(async () => { await measured?.close(); await browser?.close(); server?.close(); });

const file = (name, text) => ({ name, mimeType: 'text/plain', buffer: Buffer.from(text) });
const asFile = (r, i) => file(`report-${i}.agremens`, `Agremens report=${r.report}\n`);
const asLink = (r) => `Dear teacher,\n<https://practice.example.org/#report=${r.report}>.\n`;
// Mail breaks long lines.
const asMail = (r) => `> #report=${r.report.match(/.{1,70}/g).join('\n')}\n`;

async function openClass(options = {}) {
  const teacher = await open(browser, server.url, '?passage=mordent', { permissions: ['clipboard-read', 'clipboard-write'], ...options });
  await state(teacher.page, 'ready');
  await teacher.page.evaluate(() => document.getElementById('open-class').click());
  await teacher.page.waitForSelector('#class[open]');
  return teacher;
}

const came = (page) => page.locator('#class-list li').allInnerTexts();
const summary = (page) => page.textContent('#class-summary');
const rows = (page) => page.$$eval('#class-table tbody tr', (all) => all.map((tr) => [...tr.children].map((cell) => cell.innerText.trim().replace(/\s+/g, ' '))));

// takeFiles takes in files together and waits until each is named.
async function takeFiles(page, files) {
  await page.evaluate(() => { document.getElementById('class-summary').textContent = ''; });
  await page.setInputFiles('#class-files', files);
  await until(() => summary(page), (text) => text !== '');
}

async function paste(page, text) {
  await page.evaluate(() => { document.getElementById('class-summary').textContent = ''; document.getElementById('class-pasting').hidden = false; });
  await page.fill('#class-paste', text);
  await page.click('#class-take');
  await until(() => summary(page), (text) => text !== '');
}

const told = (w) => (w.days === 0 ? '–' : `${w.days} ${w.days === 1 ? 'day' : 'days'} ${w.minutes} min`);

// same asserts that the table shows what was sent, and nobody else.
async function same(page, table) {
  const shown = await rows(page);
  assert.deepEqual(shown.map((r) => r[0]).sort(), table.map((f) => f.student).sort());
  for (const f of table) {
    const row = shown.find((r) => r[0] === f.student);
    assert.deepEqual(row.slice(1, 1 + f.weeks.length), f.weeks.map(told), f.student);
  }
}

// photographs are pictures of codes on a table: aslant, a little out of focus,
// the light from one side.
async function photographs(of) {
  const context = await browser.newContext({ viewport: { width: 1200, height: 900 } });
  const page = await context.newPage();
  const all = [];
  for (const [i, r] of of.entries()) {
    await page.setContent(`<body style="margin:0;background:linear-gradient(100deg,#d8d2c4,#6f6a60);height:100vh;display:grid;place-items:center;perspective:1400px">
      <div style="width:640px;background:#fff;padding:30px;filter:blur(1px) brightness(.85);transform:rotateX(${18 + 9 * i}deg) rotateZ(${7 - 25 * i}deg)">${r.square}</div>`);
    all.push({ name: `photo-${i}.png`, mimeType: 'image/png', buffer: await page.screenshot({ path: shots(`class-photo-${i}`) }) });
  }
  await context.close();
  return all;
}

test('twelve files opened together are twelve reports; what is none is named', async () => {
  const { reports, table } = invented(12, 4, '-squares');
  const latest = reports.filter((r) => r.week === 3);
  const { page, wrong, close } = await openClass();
  assert.match(await page.textContent('#class-what'), /stays in this browser on this device/);
  await takeFiles(page, [...latest.slice(0, 9).map(asFile),
    asFile({ report: latest[9].report.slice(0, -9) }, 'cut'), file('notes.txt', 'Practise.'), asFile(latest[0], 'again')]);
  assert.equal(await summary(page), '9 taken, 1 here already, 2 not taken.');
  const list = await came(page);
  assert.equal(list.length, 12, 'each is named');
  assert.match(list.find((l) => l.includes('report-cut')), /not taken\. A part is missing/);
  assert.match(list.find((l) => l.includes('notes.txt')), /not taken\. There is no report in it/);
  await page.screenshot({ path: shots('class-came') });
  // Photographs, in a browser that cannot read codes itself.
  assert.ok(!await page.evaluate(() => 'BarcodeDetector' in window), 'this browser reads codes: the program itself is not tried');
  const photos = await photographs(latest.slice(10));
  await takeFiles(page, [...photos, { name: 'cat.png', mimeType: 'image/png', buffer: await page.screenshot() }]);
  assert.equal(await summary(page), '2 taken, 1 not taken.');
  assert.match((await came(page)).find((l) => l.includes('cat.png')), /No code was found in the picture/);
  await paste(page, latest.map(asLink).join('\n') + asMail(reports.find((r) => r.week === 0)));
  assert.equal(await summary(page), `${latest.length - 11 + 1} taken, 11 here already.`);
  for (const week of [0, 1, 2]) await takeFiles(page, reports.filter((r) => r.week === week).map(asFile));
  await same(page, table);
  // What was played at the piano is seen before what was tapped.
  const shown = await rows(page), played = table.filter((f) => f.piano > 0);
  assert.ok(played.length > 1, 'some have played');
  for (const f of table) {
    const tempo = shown.find((r) => r[0] === f.student).at(-2);
    if (f.piano > 0) assert.match(tempo, new RegExp(`^${f.piano} of 80 at the piano(; tapped \\d+)?$`), f.student);
    else assert.doesNotMatch(tempo, /piano/, f.student);
  }
  for (const [width, height] of [[1024, 768], [390, 844]]) {
    await page.setViewportSize({ width, height });
    await page.locator('#class-table').scrollIntoViewIfNeeded();
    await page.screenshot({ path: shots(`class-piano-${width}`) });
  }
  assert.deepEqual(wrong, []);
  await close();
});

test('a class of forty over ten weeks, taken to another device', async (t) => {
  const { reports, table } = invented(40, 10);
  const { page, wrong, close } = await openClass();
  // Some weeks come late, some twice, in files and in one long message.
  const order = [...reports].sort((a, b) => (a.week * 7) % 10 - (b.week * 7) % 10);
  await takeFiles(page, order.slice(0, 180).map(asFile));
  await paste(page, order.slice(150).map((r, i) => (i % 2 ? asLink(r) : asMail(r))).join('\n'));
  await takeFiles(page, [...order.slice(300, 330).map(asFile), asFile({ report: 'broken' }, 'broken')]);
  assert.equal(await summary(page), '30 here already, 1 not taken.');
  await same(page, table);

  // It outlasts a reload, and stays readable at this size.
  await page.reload();
  await state(page, 'ready');
  await page.evaluate(() => document.getElementById('open-class').click());
  await same(page, table);
  const wide = await page.$eval('#class-scroll', (e) => e.scrollWidth - e.clientWidth);
  assert.ok(wide <= 0, `the table sticks out by ${wide} pixels`);
  const high = await page.$$eval('#class-table tbody tr', (all) => Math.max(...all.map((tr) => tr.getBoundingClientRect().height)));
  t.diagnostic(`${high} pixels a row`);
  await page.screenshot({ path: shots('class-table') });
  await page.setViewportSize({ width: 1440, height: 900 });
  await page.screenshot({ path: shots('class-table-wide') });

  // A row opens the student.
  await page.fill('#class-find', table[3].student.toLowerCase());
  await until(() => rows(page), (all) => all.length === 1);
  await page.click('#class-table tbody button');
  assert.equal(await page.textContent('#one-name'), table[3].student);
  assert.equal(await page.locator('#one-history article').count(), table[3].tasks);
  await page.fill('#one-note', 'The thumb is heavy.\nAsk for the book.');
  await page.dispatchEvent('#one-note', 'change');
  await page.selectOption('#one-lesson', '3');
  await page.screenshot({ path: shots('class-one') });
  await page.click('#one-back');
  await page.fill('#class-find', '');
  await until(() => rows(page), (all) => all.length === table.length);
  await page.selectOption('#class-lesson', '3');
  assert.equal((await until(() => rows(page), (all) => all.length === 1)).length, 1);
  await page.selectOption('#class-lesson', '0');

  const [download] = await Promise.all([page.waitForEvent('download'), page.click('#class-save')]);
  const saved = await contents(download);
  t.diagnostic(`${saved.length} bytes for ${reports.length} reports: ${Math.round(saved.length / reports.length)} a report`);
  const second = await openClass();
  await takeFiles(second.page, [{ name: download.suggestedFilename(), mimeType: 'text/plain', buffer: saved }]);
  assert.match(await summary(second.page), /^1 taken/);
  assert.deepEqual(await rows(second.page), await rows(page));
  const [again] = await Promise.all([second.page.waitForEvent('download'), second.page.click('#class-save')]);
  assert.ok((await contents(again)).equals(saved), 'the same file leaves the second device');

  // Erased one by one.
  await second.page.click('#class-table tbody tr:first-child button');
  const gone = await second.page.textContent('#one-name');
  await second.page.click('#one-erase');
  await second.page.click('#one-erase-yes');
  await until(() => rows(second.page), (all) => all.length === table.length - 1);
  assert.ok(!(await second.page.evaluate(() => JSON.stringify({ ...localStorage }))).includes(gone));
  assert.match(await second.page.textContent('#class-said'), new RegExp(`^${gone} is erased here`));
  // The older file does not bring her back, and says so; the newer one erases
  // her elsewhere too.
  await takeFiles(second.page, [file('older.agremens', saved.toString())]);
  assert.match((await came(second.page))[0], new RegExp(`left out: ${gone}\\.`));
  assert.equal((await rows(second.page)).length, table.length - 1);
  const [newer] = await Promise.all([second.page.waitForEvent('download'), second.page.click('#class-save')]);
  await takeFiles(page, [file('newer.agremens', (await contents(newer)).toString())]);
  assert.match((await came(page))[0], new RegExp(`Erased there, and so here too: ${gone}\\.`));
  assert.deepEqual(await rows(page), await rows(second.page));
  assert.deepEqual([...wrong, ...second.wrong], []);
  await second.close();
  await close();
});

test('from the table to the next task in three presses', async () => {
  const { reports, table } = invented(3, 4);
  const { page, wrong, close } = await openClass();
  await takeFiles(page, reports.map(asFile));
  await page.evaluate(() => localStorage.setItem('agremens.home', 'https://practice.example.org/'));
  // The plan: some weeks drafted at once, one taken out, one for two students.
  await page.click('#class-table tbody tr:first-child button');
  await page.click('#one-weeks');
  const planned = () => page.locator('#one-plan article').count();
  const drafted = await until(planned, (n) => n > 0);
  assert.ok(drafted >= 2 && drafted <= 4, `${drafted} weeks`);
  await page.click('#one-weeks');
  assert.equal(await planned(), drafted, 'drafted again they stand once');
  assert.match(await page.innerText('#one-plan article'), /^From \d+ [A-Z][a-z]+: .*, bars 1–4\n.* · \d+ to 80 · /s);
  await page.screenshot({ path: shots('class-plan') });
  await page.click('#one-plan article:last-child button:last-child');
  assert.equal(await until(planned, (n) => n < drafted), drafted - 1);
  await page.click('#one-back');

  await page.click('#class-table tbody tr:first-child button'); // 1
  await page.click('#one-next'); // 2
  await page.waitForSelector('#task', { state: 'visible' });
  assert.match(await page.textContent('#task-for-name'), new RegExp(table[0].student));
  assert.match(await page.textContent('#task-why'), /[A-Z][a-z ]+ in bar \d+: the ornament starts after the other hand\. \d+ days? at \d+\./);
  await page.screenshot({ path: shots('class-task') });
  await page.click('#task-copy'); // 3
  await page.waitForFunction(() => document.getElementById('task-said').textContent.startsWith('Copied'));
  const link = await page.evaluate(() => navigator.clipboard.readText());
  assert.match(link, /^https:\/\/practice\.example\.org\/#task=/);
  // Two students, each with her own tempo.
  await page.click('#task-for > summary');
  await page.click('#task-students label:nth-of-type(2) input');
  await page.fill('#task-tempos label:nth-of-type(2) input', '48');
  await page.dispatchEvent('#task-tempos label:nth-of-type(2) input', 'change');
  await until(() => page.textContent('#task-note'), (text) => text.startsWith('Copied together'));
  await page.click('#task-copy');
  const both = await until(() => page.evaluate(() => navigator.clipboard.readText()), (text) => text.includes('\n'));
  assert.deepEqual(both.split('\n').map((line) => line.split(': ')[0]), [table[0].student, table[1].student]);
  assert.notEqual(both.split('\n')[0].split('#')[1], both.split('\n')[1].split('#')[1]);
  // The same for a later lesson of both.
  await page.selectOption('#task-week', '2');
  await page.click('#task-plan');
  assert.match(await until(() => page.textContent('#task-said'), (text) => text.startsWith('In the plan')), new RegExp(`${table[0].student}, ${table[1].student}\\.$`));
  // The piece with all that was made of it: its bars, its signs, its tasks.
  await page.evaluate(() => document.getElementById('open-piece-signs').click());
  assert.match(await page.textContent('#piece-signs-count'), /^Bars \d+–\d+ are chosen\. \d+ signs?, \d+ decided\.$/);
  const assigned = await page.locator('#piece-tasks article').allInnerTexts();
  for (const one of [table[0], table[1]]) assert.ok(assigned.some((text) => text.startsWith(`${one.student}: bars 1–4`)), assigned.join('\n'));
  assert.ok(assigned.some((text) => /Practised last on \d+ [A-Z][a-z]+: /.test(text)), assigned.join('\n'));
  await page.screenshot({ path: shots('class-piece') });
  await page.click('#piece-signs-close');
  // The piece is found by her name.
  await page.evaluate(() => document.getElementById('open-piece').click());
  await page.fill('#piece-find', table[1].student.toLowerCase());
  const found = await until(() => page.locator('#piece-found button').allInnerTexts(), (all) => all.length > 0);
  assert.ok(found.every((text) => /^Task: /.test(text) && text.includes(table[1].student)), found.join());
  // Another one by its composer; the one used last stands first.
  await page.setInputFiles('#open', file('air.abc', 'X:1\nT:Evening Air\nC:A. Nemo\nM:3/4\nL:1/4\nK:C\nTc2 d|c3|]\n'));
  await page.waitForFunction(() => localStorage['agremens.shelf'].includes('Nemo'));
  await page.evaluate(() => document.getElementById('open-piece').click());
  assert.match((await until(() => page.locator('#piece-found button').allInnerTexts(), (all) => all.length > 0))[0], /^air\.abc\s+Evening Air, A\. Nemo, opened last on /);
  await page.fill('#piece-find', 'nemo');
  assert.equal((await until(() => page.locator('#piece-found button').allInnerTexts(), (all) => all.length === 1)).length, 1);
  await page.fill('#piece-find', 'no such piece');
  assert.equal((await until(() => page.locator('#piece-found button').allInnerTexts(), (all) => all.length === 0)).length, 0);
  await page.click('#bring-close');
  await page.evaluate(() => document.getElementById('open-class').click());
  await page.click('#class-table tbody tr:first-child button');
  assert.equal(await planned(), drafted - 2 + 1, 'what was given leaves the plan; what was planned since is in it');
  assert.match(await page.innerText('#one-history'), /Given on .*\n?.*Because: [A-Z][a-z ]+ in bar \d+: the ornament starts/s);
  assert.deepEqual(wrong, []);
  await close();
});

test('Sunday evening: from twelve files to twelve next tasks', async (t) => {
  const { reports, table } = invented(12, 4);
  const { page, wrong, close } = await openClass();
  for (const week of [0, 1, 2]) await takeFiles(page, reports.filter((r) => r.week === week).map(asFile));
  await page.evaluate(() => localStorage.setItem('agremens.home', 'https://practice.example.org/'));
  const began = Date.now();
  let presses = 2; // the button, and opening what was chosen
  const press = async (selector) => { await page.click(selector); presses++; };
  await takeFiles(page, reports.filter((r) => r.week === 3).map(asFile));
  const byName = [...table].sort((a, b) => (a.student < b.student ? -1 : 1));
  for (const [i, found] of byName.entries()) {
    if (i > 0) await press('#open-class');
    await page.waitForSelector('#class[open]');
    await press(`#class-table tbody tr:nth-child(${i + 1}) button`);
    assert.equal(await page.textContent('#one-name'), found.student);
    await press('#one-next');
    await page.evaluate(() => { document.getElementById('task-said').textContent = ''; });
    await press('#task-copy');
    await page.waitForFunction(() => document.getElementById('task-said').textContent.startsWith('Copied'));
  }
  t.diagnostic(`${presses} presses, ${((Date.now() - began) / 1000).toFixed(1)} s by a script: a person adds her reading`);
  assert.ok(presses <= 4 * table.length + 1, `${presses} presses`);
  await press('#open-class');
  const works = await page.evaluate(() => Object.keys(localStorage).filter((k) => k.startsWith('agremens.class.'))
    .map((k) => localStorage[k].split('\n').filter((l) => l.startsWith('work\t') && l.split('\t')[5] !== '').length));
  assert.deepEqual(works, table.map(() => 1), 'each was given one task');

  // The list of a day's lessons on one printed side, with a note each.
  const sides = (pdf) => pdf.toString('latin1').match(/\/Type\s*\/Page\b/g).length;
  for (const students of [8, 12]) {
    await page.evaluate((most) => {
      let n = 0;
      for (const key of Object.keys(localStorage).filter((k) => k.startsWith('agremens.class.')).sort()) {
        localStorage[key] = localStorage[key].replace(/^student\t([^\t]*)\t[^\n]*\n(note[^\n]*\n)?/m, (_, name) =>
          `student\t${name}\t${n++ < most ? 2 : 5}\t5\nnote\t5\tThe thumb is heavy in bar three, and the left hand waits for it.\\nAsk for the book, and hear the second page from memory. The grandmother listens on Fridays: shall they play to her?\n`);
      }
      window.print = () => {};
      document.getElementById('class-close').click();
      document.getElementById('open-class').click();
    }, students);
    await page.selectOption('#class-lesson', '2');
    assert.equal((await until(() => rows(page), (all) => all.length === students)).length, students);
    await page.click('#class-print');
    await page.waitForFunction(() => document.documentElement.dataset.print === 'lessons');
    assert.equal(await page.locator('#lessons-list article').count(), students);
    for (const format of ['A4', 'Letter']) {
      const pdf = await page.pdf({ path: shots(`lessons-${students}-${format}`).replace('.png', '.pdf'), format, margin: { top: '12mm', bottom: '12mm', left: '14mm', right: '14mm' } });
      assert.equal(sides(pdf), 1, `${students} students on ${format}`);
    }
  }
  assert.deepEqual(wrong, []);
  await close();
});

later('two windows and a full storage lose nothing', async () => {
  const { reports, table } = invented(12, 4);
  const { page: one, wrong, close } = await openClass();
  const two = await one.context().newPage();
  two.on('pageerror', (e) => wrong.push(e.message));
  await two.goto(server.url);
  await state(two, 'ready');
  await two.evaluate(() => document.getElementById('open-class').click());
  for (let i = 0; i < reports.length; i += 8) await takeFiles((i / 8) % 2 ? two : one, reports.slice(i, i + 8).map(asFile));
  for (const page of [one, two]) {
    // What one window has written reaches the other a moment later.
    await until(async () => {
      await page.evaluate(() => { document.getElementById('class-close').click(); document.getElementById('open-class').click(); });
      return (await rows(page)).length;
    }, (n) => n === table.length);
    await same(page, table);
  }
  // No room: nothing is taken, and each thing that came says so.
  const before = await rows(one);
  await one.evaluate(() => {
    for (let size = 1 << 20; size > 4; size >>= 1) {
      try { for (let i = 0; ; i++) localStorage.setItem(`fill${size}-${i}`, 'x'.repeat(size)); } catch { /* full */ }
    }
  });
  await takeFiles(one, invented(13, 6).reports.slice(-6).map(asFile));
  assert.match(await summary(one), /not taken\.$/);
  assert.match((await came(one))[0], /no room for it/);
  assert.deepEqual(await rows(one), before);
  assert.deepEqual(wrong, []);
  await close();
});

// A class after a year, laid into the storage as the page keeps it.
const year = (students) => execFileSync('go', ['run', './cmd/check/invented', '-students', students, '-weeks', 50, '-own', '-class', '-today', today], { cwd: root, maxBuffer: 64 << 20 }).toString();

// As everybody's browser runs it.
const measuring = async () => { measured ??= await launch({ measured: true }); };

later('a class after a year of weekly reports takes at most 1.5 kB a report; how soon it opens on a slow processor is printed', async (t) => {
  await measuring();
  for (const students of [10, 40, 160]) {
    const text = year(students);
    const { page, wrong, close } = await open(measured, server.url, '');
    await state(page, 'ready');
    await page.evaluate((text) => {
      const all = text.split(/^(?=student\t|end\t)/m).slice(1, -1);
      const names = all.map((one) => one.split('\t')[1].toLowerCase());
      all.forEach((one, i) => { localStorage[`agremens.class.${names[i]}`] = `agremens-class 1\n${one}end\t1\n`; });
    }, text);
    const reports = text.split('\nwork\t').length - 1;
    const times = [];
    for (let visit = 0; visit < 3; visit++) {
      await page.reload();
      await state(page, 'ready');
      await page.waitForTimeout(3000); // the second part is there, as for someone who reads first
      const slow = await page.context().newCDPSession(page);
      await slow.send('Emulation.setCPUThrottlingRate', { rate: 4 });
      times.push(Math.round(await page.evaluate(async () => {
        const began = performance.now();
        document.getElementById('open-class').click();
        while (!document.querySelector('#class-table tbody tr')) await new Promise((done) => { setTimeout(done); });
        await new Promise(requestAnimationFrame);
        await new Promise((done) => { setTimeout(done); });
        return performance.now() - began;
      })));
      await slow.send('Emulation.setCPUThrottlingRate', { rate: 1 });
      await slow.detach();
    }
    t.diagnostic(`${students} students, ${reports} reports: ${times.join(', ')} ms; ${Math.round(text.length / reports)} bytes a report`);
    assert.ok(text.length / reports <= 1500);
    assert.deepEqual(wrong, []);
    await close();
  }
});
