// Takes the pictures of the manual and the README from the running program:
//   node web/e2e/pictures.mjs && mogrify -colors 96 web/manual/*.png
import { fileURLToPath } from 'node:url';
import { launch, serve, open, state, contents } from './browser.mjs';

const server = await serve();
const browser = await launch();
const LANGUAGES = [
  { locale: 'en-GB', suffix: '', notNow: 'Not now',
    words: 'Slowly at first, and together with the left hand. Three times a day, never faster than the trill stays even.' },
  { locale: 'de-DE', suffix: '-de', notNow: 'Jetzt nicht',
    words: 'Zuerst langsam und mit der linken Hand zusammen. Dreimal am Tag, nie schneller, als der Triller gleichmäßig bleibt.' },
];

for (const { locale, suffix, notNow, words } of LANGUAGES) {
  const out = (name) => fileURLToPath(new URL(`../manual/${name}${suffix}.png`, import.meta.url));
  const desk = await open(browser, server.url, '?passage=trill&bars=1-4&tempo=60', { locale, size: { width: 1200, height: 820 } });
  await state(desk.page, 'ready');
  await desk.page.waitForTimeout(1500);
  await desk.page.screenshot({ path: out('reading') });

  await desk.page.evaluate(() => { window.print = () => {}; document.getElementById('place-send').click(); });
  await desk.page.fill('#task-words', words);
  await desk.page.fill('#task-home', 'https://practice.example.org/');
  await desk.page.dispatchEvent('#task-home', 'change');
  const [download] = await Promise.all([desk.page.waitForEvent('download'), desk.page.click('#task-file')]);
  const file = await contents(download);
  await desk.page.evaluate(() => document.getElementById('task-print').click());
  await desk.page.waitForFunction(() => document.documentElement.dataset.print === 'sheet');
  await desk.page.emulateMedia({ media: 'print' });
  await desk.page.setViewportSize({ width: 760, height: 1000 });
  await desk.page.waitForTimeout(500);
  const sheet = await desk.page.evaluate(() => {
    const print = document.getElementById('print');
    print.style.padding = '20px';
    const { x, y, width, height } = print.getBoundingClientRect();
    return { x, y, width, height };
  });
  await desk.page.screenshot({ path: out('sheet'), clip: sheet });
  await desk.close();

  const student = await open(browser, server.url, '', { locale, size: { width: 1024, height: 768 }, hasTouch: true });
  await state(student.page, 'ready');
  await student.page.setInputFiles('#open', { name: 'task.agremens', mimeType: 'text/plain', buffer: file });
  await student.page.waitForFunction(() => document.documentElement.dataset.page === 'student');
  await student.page.getByRole('button', { name: notNow }).click();
  await student.page.waitForTimeout(1500);
  await student.page.screenshot({ path: out('student') });
  await student.close();
}
await browser.close();
server.close();
