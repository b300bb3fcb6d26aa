// Every state the page can be in, one after the other, for tests that look at
// all of them. unseen names what none of them shows.
import { reach, state } from './browser.mjs';

const TASK_HOME = 'https://practice.example.org/';

// A log with three days of practice of two players.
const PRACTISED = 'agremens-diary 1\nplayer\tAda\t\t\t\nplayer\tBen\t\t\t\n' + [20400, 20401, 20405].map((day) => ['round', day, 960, '', 'mordent', 'An Andante', '1-4',
  'tap', 'keys', 'right', 50, 54, 60, 24, 23, 1, 0, -12, 33, '62,-20,45', '0.1', 'ctu', 'late-start'].join('\t') + '\n').join('');

const BARE = 'X:1\nM:4/4\nL:1/4\nK:C\n|: Td2 c2 :|\n';
const part = (id) => `<part id="${id}"><measure number="1"><attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>` +
  '<note><pitch><step>C</step><octave>5</octave></pitch><duration>4</duration><type>whole</type></note></measure></part>';
const PARTS = '<score-partwise version="4.0"><part-list>' + ['P1', 'P2', 'P3'].map((id) => `<score-part id="${id}"><part-name>${id}</part-name></score-part>`).join('') +
  `</part-list>${part('P1')}${part('P2')}${part('P3')}</score-partwise>`;
const file = (name, text) => ({ name, mimeType: 'text/plain', buffer: Buffer.from(text) });

// What opens by one press, each with the way to it.
const press = (page, id) => page.evaluate((id) => document.getElementById(id).click(), id);
const sheets = {
  '': ['open-piece', 'bring-paper', 'bring-typed', 'open-files', 'send-wav', 'open-class', 'task-show'],
  more: ['open-log', 'open-rate', 'measure', 'no-sound', 'open-piece-signs', 'open-glossary'],
};

// play taps a whole round, often enough for it to count.
async function play(page) {
  await press(page, 'tap');
  await state(page, 'tapping', 'result');
  while (await page.getAttribute('html', 'data-state') === 'tapping') {
    for (const key of ['j', 'f']) await page.keyboard.press(key);
    await page.waitForTimeout(100);
  }
  await state(page, 'result');
}

// query is the address that the walks begin with: bars that are over soon.
export const query = '?passage=mordent&bars=1-2&tempo=57&countin=0&hand=both';

// desk goes through the teacher's page and calls look(name) at every moment.
export async function desk(page, look) {
  const unfold = () => page.evaluate(() => { for (const e of document.querySelectorAll('dialog[open] details')) e.open = true; });
  await page.evaluate((text) => localStorage.setItem('agremens.diary', text), PRACTISED);
  await page.reload();
  await state(page, 'ready');
  await look('desk');
  await page.click('#page-view');
  await look('page of music');
  await page.click('#line');
  await page.keyboard.press('Escape'); // it stands in the menu that is opened next

  await page.click('#more > summary');
  await look('more');
  await page.keyboard.press('Escape');
  await page.click('#sign-more');
  await look('all of a sign');
  await page.click('#settings-name');
  await look('the settings of a round');
  await page.keyboard.press('Escape');
  await page.click('#place-send');
  await look('what goes home');
  await page.fill('#task-home', TASK_HOME);
  await page.dispatchEvent('#task-home', 'change');
  await page.evaluate(() => Object.defineProperty(navigator, 'clipboard', { value: undefined, configurable: true }));
  await page.click('#task-copy');
  await page.waitForSelector('#task-by-hand', { state: 'visible' });
  await look('more ways home');
  for (const id of Object.values(sheets).flat()) {
    await press(page, id);
    await page.waitForSelector('dialog[open]');
    await unfold();
    if (id === 'bring-typed') {
      await page.fill('#typed-text', 'K:C\n[ce');
      await page.waitForSelector('#typed-line', { state: 'visible' });
    }
    if (id === 'open-log') await press(page, 'erase-all');
    if (id === 'open-rate') {
      await page.fill('#speed-typed', '4');
      await page.click('#speed-type');
    }
    await look(await page.evaluate(() => document.querySelector('dialog[open]').id));
    await page.keyboard.press('Escape');
  }
  await page.click('#change-choice');
  await unfold();
  await look('play it to me'); // which hides the buttons
  await page.evaluate(() => { document.getElementById('play-it').open = false; });
  await look('change');
  await page.click('.sheet[open] .what');
  await page.evaluate(() => { for (const e of document.querySelectorAll('#help section')) e.hidden = false; });
  await look('help, all of it');
  await page.keyboard.press('Escape');
  await page.keyboard.press('Escape');
  await press(page, 'elsewhere');
  await page.fill('#glossary-find', 'xyz');
  await look('a name nobody knows');
  await page.keyboard.press('Escape');

  await page.selectOption('#kind', 'trill');
  await look('a round to come');
  await page.selectOption('#kind', 'tap');
  await page.click('#tap');
  await state(page, 'tapping');
  await look('tapping');
  await page.keyboard.press('j');
  await state(page, 'result');
  await look('a round that does not count');
  await play(page);
  await look('result');
  if (await page.isVisible('#heard-yes')) await press(page, 'heard-yes');
  for (const kind of ['pass', 'first', 'clap', 'piano', 'trill']) {
    await page.selectOption('#kind', kind);
    if (kind === 'first' || kind === 'clap') {
      await press(page, 'tap');
      await page.waitForFunction(() => document.querySelector('#round-answers > button, #stage[data-big=yes]'));
    }
    await look(`kind of round: ${kind}`);
    await press(page, 'stop');
    await page.waitForFunction(() => document.getElementById('stage').dataset.big !== 'yes');
  }
  await page.selectOption('#kind', 'which');
  await press(page, 'tap');
  await page.waitForSelector('#round-answers > button');
  await look('a question by ear');
  await page.evaluate(() => document.querySelector('#round-answers > button').click());
  await page.waitForSelector('#round-ready', { state: 'visible' });
  await look('both ways once more');
  await press(page, 'stop');
  await page.selectOption('#kind', 'climb');
  await press(page, 'tap');
  await state(page, 'tapping');
  await look('a climb');
  await press(page, 'stop');
  await state(page, 'ready', 'result');
  await page.selectOption('#kind', 'tap');

  await press(page, 'start-day');
  await look('day');
  await press(page, 'day-stop');
  await look('end of the day');
  await press(page, 'day-close');

  await page.setInputFiles('#open', file('broken.xml', '<score-partwise'));
  await page.waitForSelector('#message', { state: 'visible' });
  await look('message');
  await page.click('#message-close');
  await page.setInputFiles('#open', file('bare.abc', BARE));
  await reach(page, '#questions');
  await page.waitForSelector('#questions button');
  await look('questions');
  await page.click('#settings-name');
  await look('the settings of a passage with repeats');
  await page.keyboard.press('Escape');
  await page.click('#place-read');
  await press(page, 'note-next');
  await page.evaluate(() => { for (const e of document.querySelectorAll('#edit, #edit details, #settings')) e.open = true; });
  await page.waitForSelector('#edit-signs button');
  await look('changes');
  await page.setInputFiles('#open', file('parts.musicxml', PARTS));
  await page.click('#part');
  await look('a file of several parts');
}

// lesson goes through what a student sees, the reports that came back, and
// what is printed.
export async function lesson(page, look) {
  await page.evaluate(() => { window.print = () => {}; });
  await press(page, 'place-send');
  await page.fill('#task-words', 'Slowly, and together with the left hand.');
  await page.fill('#task-home', TASK_HOME);
  await page.dispatchEvent('#task-home', 'change');
  await page.emulateMedia({ media: 'print' });
  for (const paper of ['print', 'answers']) {
    await press(page, `task-${paper}`);
    await look(`printed: ${paper}`);
  }
  await page.emulateMedia({ media: 'screen' });
  await press(page, 'task-try');
  await page.waitForFunction(() => document.documentElement.dataset.page === 'student');
  await page.evaluate((text) => {
    // The log of this very task, for a report with every line.
    const id = /^passage (.*)$/m.exec(localStorage.getItem('agremens.desk'))[1];
    localStorage.setItem('agremens.diary', text.replaceAll('\tmordent\t', `\t${decodeURIComponent(id)}\t`));
    if (!matchMedia('(pointer: coarse)').matches) for (const key of ['home-offer', 'home-add']) document.getElementById(key).hidden = false;
  }, PRACTISED);
  await look('student');
  await page.click('#student-more > summary');
  await look('more for a student');
  await page.click('#student-own > summary');
  await look('student’s language');
  await page.click('#student-own > summary');
  await page.click('#student-more .what');
  await look('help for a student');
  await page.keyboard.press('Escape');
  await page.keyboard.press('Escape');
  if (await page.isVisible('#home-not')) await press(page, 'home-not');
  await press(page, 'tap');
  await state(page, 'counting', 'tapping', 'listening');
  await look('student’s round');
  await press(page, 'stop');
  await state(page, 'ready', 'result');
  await play(page);
  await look('student’s result');
  await page.evaluate(() => { document.getElementById('figures').open = true; });
  await look('the numbers of a student’s result');
  await press(page, 'done');
  await page.waitForSelector('#last[open]');
  await page.evaluate(() => Object.defineProperty(navigator, 'clipboard', { value: undefined, configurable: true }));
  await press(page, 'last-copy');
  await page.waitForSelector('#last-by-hand', { state: 'visible' });
  await look('last page');
  await page.evaluate(() => { for (const e of document.querySelectorAll('#last details')) e.open = true; });
  await look('what the report says');
  const report = await page.inputValue('#last-by-hand');
  await page.evaluate((hash) => { location.hash = hash; }, new URL(report).hash);
  await page.waitForSelector('#class[open] tbody tr');
  await look('class');
  await page.evaluate(() => document.querySelector('#class-table tbody button').click());
  await page.waitForSelector('#one-history article');
  await page.evaluate(() => { for (const e of document.querySelectorAll('dialog[open] details')) e.open = true; });
  await look('a student of the class');
  // The last moment of a page: the program stops, the second time in a row.
  await page.evaluate(() => {
    sessionStorage.setItem('agremens.stopped', Date.now());
    dispatchEvent(new ErrorEvent('error', { error: new WebAssembly.RuntimeError('unreachable') }));
  });
  await page.waitForSelector('#stopped[open]');
  await look('the program has stopped');
}

// seen returns the ids of what is to be seen now.
export const seen = (page) => page.evaluate(() => [...document.querySelectorAll('[id]')].filter((e) => !e.closest('svg') && e.checkVisibility()).map((e) => e.id));
