// The lesson loop in Chromium, Firefox and WebKitGTK, each started as a visitor
// starts it, in a window, and worked with the mouse of a desktop: a task leaves the teacher's desk,
// a student on another profile practises it without a network, and the report
// that comes back tells the robot's true figures.
//
// AGREMENS_ENGINE names one browser.
import { test } from 'node:test';
import assert from 'node:assert/strict';
import { execFile } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { monitorEventLoopDelay } from 'node:perf_hooks';
import { promisify } from 'node:util';
import { fileURLToPath } from 'node:url';
import { join } from 'node:path';
import * as desk from './desktop.mjs';
import { open } from './engines.mjs';
import { stall } from './machine.mjs';
import { told } from './robot.mjs';

const run = promisify(execFile);
const out = process.env.AGREMENS_OUT ?? fileURLToPath(new URL('../../.check/screens', import.meta.url));
mkdirSync(out, { recursive: true });
const chosen = process.env.AGREMENS_ENGINE ? [process.env.AGREMENS_ENGINE] : ['window', 'firefox', 'webkit']; // Chromium's window

const HOME = 'https://practice.example.org/';
const LATE = 90; // ms: how late the robot taps
const TEMPO = 72;
const TRIES = 4; // rounds, where the machine stands still
const query = '?' + new URLSearchParams({ passage: 'mordent', bars: '1-2', hand: 'right', play: 'right', instrument: 'click', beat: 'off', countin: '1', tempo: TEMPO });
const pause = (ms) => new Promise((resolve) => setTimeout(resolve, ms));

// until waits for what a question about the page answers.
async function until(what, ask, ms = 60_000, last = () => '') {
  for (const end = Date.now() + ms; ;) {
    const answer = await ask();
    if (answer) return answer;
    if (Date.now() > end) throw new Error(`${what}: not within ${ms / 1000} s ${last()}`);
    await pause(250);
  }
}

// fit makes the page itself so large, whatever stands around it in its window.
async function fit(page, size, { env }) {
  let shown = [];
  await until('the page has its size', async () => {
    const now = await page.call('page');
    shown.push(`${now.width} × ${now.height}`);
    if (now.width === size.width && now.height === size.height) return true;
    const found = await run('xdotool', ['search', '--all', '--onlyvisible', '--pid', page.pid, '--name', '.'], { env }).catch(() => ({ stdout: '' }));
    for (const id of found.stdout.split('\n').filter(Boolean)) {
      const shape = (await run('xdotool', ['getwindowgeometry', '--shell', id], { env })).stdout;
      const [width, height] = ['WIDTH', 'HEIGHT'].map((name) => Number(shape.match(new RegExp(`${name}=(\\d+)`))[1]));
      if (width < now.width || height < now.height) continue; // not the page's window
      await run('xdotool', ['windowmove', id, 0, 0, 'windowsize', id, width + size.width - now.width, height + size.height - now.height], { env });
      await pause(1500);
      return false;
    }
    return false;
  }, 60_000, () => `(${shown})`);
}

for (const engine of chosen) {
  for (const size of [{ width: 1024, height: 768 }, { width: 768, height: 1024 }]) {
    test(`the lesson loop in ${engine}, ${size.width} × ${size.height}`, async (t) => {
      const desktop = await desk.start(48000, { width: 1100, height: 1280 });
      const pages = [];
      const begin = async (query) => {
        const page = await open(engine, desktop, query);
        pages.push(page);
        await fit(page, size, desktop);
        return page;
      };
      const shoot = async (moment) => {
        await pause(800); // some paint late
        await run('import', ['-window', 'root', join(out, `${engine}-${size.width}-${moment}.png`)], { env: desktop.env });
      };
      // press is a true click of the mouse, which browsers ask for before they
      // let a page copy. What a round hid comes back a moment after its end.
      const press = async (page, selector) => {
        let why = '';
        const [x, y] = await until(`a press on ${selector}`, () => page.call('middle', selector).catch((error) => { why = error.message; }), 5000, () => why);
        await run('xdotool', ['mousemove', Math.round(x), Math.round(y), 'click', '1'], { env: desktop.env });
      };
      // copied presses a button that copies and returns the link: from the
      // clipboard, or from where it stands to be copied by hand.
      const copied = async (page, sheet) => {
        await press(page, `#${sheet}-copy`);
        const said = await until('the link is handed over', async () => (await page.call('look', { said: `#${sheet}-said` })).said);
        t.diagnostic(`${engine}: ${said}`);
        const link = said.startsWith('Copied') ? (await page.call('page')).copied : await page.call('value', `${sheet}-by-hand`);
        assert.notEqual(link, '');
        return link;
      };
      try {
        const teacher = await begin(query);
        await teacher.state('ready');
        const at = await teacher.call('page');
        t.diagnostic(JSON.stringify(at));
        assert.deepEqual([at.width, at.height], [size.width, size.height]);
        assert.ok(at.sideways <= 0, 'nothing sticks out sideways');
        await shoot('desk');
        // How many sounds are the count.
        await teacher.call('rest');
        await press(teacher, '#tap');
        await teacher.state('counting', 'tapping');
        await teacher.state('result', { timeout: 90_000 });
        const heard = await teacher.call('read');
        const skip = heard.onsets.length - told(heard.result).wanted;
        assert.ok(skip > 0 && heard.onsets.length > skip, 'a round can be heard');

        await press(teacher, '#place-send');
        await teacher.call('fill', 'task-home', HOME);
        await teacher.call('fill', 'task-words', 'Slowly, and together with the left hand.');
        while ((await teacher.call('look', { box: '#task-path button' })).box !== null) await press(teacher, '#task-path button');
        await shoot('task');
        const link = await copied(teacher, 'task');
        assert.ok(link.startsWith(HOME + '#task='), link);

        // The student: a profile of its own, and no network once the page is there.
        const student = await begin(link.replace(HOME, ''));
        await student.state('ready');
        const worker = await until('the service worker', async () => (await student.call('page')).worker, 60_000).catch(() => false);
        t.diagnostic(`${engine}: a service worker ${worker ? 'keeps the page' : 'does not come'}`);
        assert.ok(worker, 'the page is kept on the device');
        student.cut(true);
        assert.equal((await student.call('page')).page, 'student');
        const seen = await student.call('look', { words: '#student-words' });
        assert.equal(seen.words, 'Slowly, and together with the left hand.');
        await shoot('student');
        await student.reload(); // from what is kept on the device
        await student.state('ready');
        assert.equal((await student.call('page')).page, 'student');

        let played, result;
        for (let i = 1; ; i++) {
          await student.call('arm', { delay: LATE, codes: ['KeyJ', 'KeyK'], pattern: null, skip });
          const timers = monitorEventLoopDelay({ resolution: 10 });
          timers.enable();
          await press(student, '#student-dots'); // the round as her teacher set it
          await press(student, '#tap');
          await student.state('counting', 'tapping');
          await student.state('result', { timeout: 90_000 });
          timers.disable();
          played = await student.call('read');
          result = told(played.result);
          t.diagnostic(`${engine}: ${JSON.stringify(result)}`);
          if (result.gaps + result.jumps === 0) break;
          const why = stall({ ...played, timer: timers.max / 1e6 - 10, since: played.now - 15_000 });
          assert.notEqual(why, '', `${result.gaps} holes and ${result.jumps} jumps, and the machine did not stand still`);
          assert.ok(i < TRIES, `no round without ${why}`);
          t.diagnostic(`again: ${why}`);
        }
        assert.ok(result.hit > 0.8 * result.wanted, 'the robot tapped');
        await shoot('result');

        await press(student, '#finish');
        await until('the last page', async () => (await student.call('page')).open === 'last');
        await student.call('fill', 'last-who', 'Ada');
        await press(student, '#last-piano [data-key="10"]');
        await until('the minutes', async () => (await student.call('look', { told: '#last-piano [aria-pressed=true]' })).told === '10');
        const report = await copied(student, 'last');
        assert.ok(report.startsWith(student.url + '#report='), report);
        await shoot('last');

        await pages.pop().close(); // the student's
        await teacher.call('goto', '#' + report.split('#')[1]); // the page is open already
        await until('the class', async () => (await teacher.call('look', { row: '#class-table tbody tr' })).row);
        // The table may still be moving under the pointer when it is first pressed.
        const card = await until('the report', async () => {
          const seen = (await teacher.call('look', { card: '#one-history article' })).card;
          if (!seen) await press(teacher, '#class-table tbody button').catch(() => {}); // it lies under the sheet by now
          return seen;
        });
        t.diagnostic(card.replaceAll('\n', ' | '));
        await shoot('reports');
        assert.equal((await teacher.call('look', { name: '#one-name' })).name, 'Ada');
        assert.match(card, /1 day, \d+ minutes? of tapping, 10 minutes at the piano \(student's figure\)/);
        assert.match(card, new RegExp(`First round of the day, cold: ${TEMPO}`), 'the tempo of the round');
        // Nothing was measured on this device, so that all taps came equally late
        // may be the sound's delay: it is no fault, and the round is clean.
        assert.match(card, new RegExp(`cold: ${TEMPO} clean`));
        assert.ok(Math.abs(result.mean - LATE) <= 20, 'what the student was told');
        assert.deepEqual(played.wrong.filter((w) => !/NetworkError|Load failed|Failed to fetch/.test(w)), []);
      } catch (error) {
        await shoot('failed').catch(() => {});
        throw error;
      } finally {
        for (const page of pages) await page.close();
        await desktop.stop();
      }
    });
  }
}
