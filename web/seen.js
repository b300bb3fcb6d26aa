// The page before its program. What was seen last stands there at once, and
// what is pressed meanwhile is done when the program has come.
'use strict';
(function () {
  const root = document.documentElement;
  const byId = (id) => document.getElementById(id);
  const loading = () => root.dataset.state === 'loading';

  // What was pressed: steps in their order, and the round to begin after them.
  const STEPS = ['next-sign', 'prev-sign', 'slower', 'faster'], ROUNDS = ['listen', 'tap', 'go'], MOST_STEPS = 20;
  const steps = [];
  let round = null, said = '';

  function hear(button) {
    if (ROUNDS.includes(button.id)) {
      round?.classList.remove('heard');
      round = button;
    } else if (steps.length < MOST_STEPS) steps.push(button);
    button.classList.add('heard');
    byId('status').textContent = said = agremens.say('“{name}” was heard: it is done as soon as the program is ready.', { name: button.getAttribute('aria-label') ?? button.textContent.trim() });
  }

  document.addEventListener('click', (event) => {
    const button = event.target.closest?.('button');
    if (!loading() || ![...STEPS, ...ROUNDS].includes(button?.id)) return;
    event.stopImmediatePropagation();
    hear(button);
  }, true);

  // awake lets those buttons be pressed that are heard, and no others; the
  // program wakes the rest.
  function awake(on) {
    const heard = (e) => [...STEPS, ...ROUNDS].includes(e.id);
    for (const e of document.querySelectorAll('#controls :is(.act, .set) > :not(#status), #student-more, #student button, #sign .walk > *, #sign > :not(.walk, .told)')) e.inert = on && !heard(e);
    byId('controls').inert = !on;
  }

  function done() {
    const all = round ? [...steps, round] : [...steps];
    for (const button of all) button.classList.remove('heard');
    if (said && byId('status').textContent === said) byId('status').textContent = '';
    steps.length = 0;
    round = null;
    if (root.dataset.state === 'error') {
      byId('sign').inert = true;
      return awake(false);
    }
    for (const button of all) button.click();
  }

  new MutationObserver((_, watch) => {
    if (loading()) return;
    watch.disconnect();
    first = byId('title-text').textContent;
    setTimeout(done); // the program goes on with its start first
    setTimeout(() => staff?.remove(), 3000); // it has drawn its own over it
  }).observe(root, { attributes: true, attributeFilter: ['data-state'] });
  if (loading()) awake(true);

  // What was seen last: the words, and the staff as a picture. This script
  // stands in the page behind the last of them, so that they are put out before
  // the rest of the page is read; and the program waits until they are painted,
  // for nothing else gets a turn when it begins.
  const KEY = 'agremens.seen', MOST = 200_000; // letters
  const QUIET = 700; // ms in which nothing was touched
  const HTML = ['title-text', 'composer-text', 'sign-name', 'sign-picture', 'sign-notes', 'sign-fingers', 'sign-why', 'sign-because', 'sign-sources',
    'choices', 'student-words', 'path', 'path-ask', 'week-picture', 'week-words', 'go', 'begin', 'tempo-percent', 'tempo-unit'];
  const VALUES = ['tempo', 'tempo-number'];
  const DATA = ['page', 'go']; // of the whole page, for its style
  const opened = location.hash;
  let staff = null, first = ''; // the picture while it stands; the title that opened came with

  // now is what must be as it was for what was seen to be true. To ask for a
  // colour would have the whole page styled twice.
  const now = () => JSON.stringify([sessionStorage.getItem('agremens.desk') ?? localStorage.getItem('agremens.desk'),
    localStorage.getItem('agremens.page'), localStorage.getItem('agremens.look'), agremens.language,
    ...['(prefers-color-scheme: dark)', '(prefers-contrast: more)', '(forced-colors: active)'].map((query) => matchMedia(query).matches)]);

  async function show() {
    agremens.uncoverEarly();
    if (location.search) return; // the address asks for something else
    const seen = JSON.parse(localStorage.getItem(KEY));
    if (!seen?.width || !loading() || seen.now !== now() || location.hash && location.hash !== seen.hash) return;
    for (const [id, html] of Object.entries(seen.html)) byId(id).innerHTML = html;
    for (const [id, value] of Object.entries(seen.values)) byId(id).value = value;
    for (const [name, value] of Object.entries(seen.data)) if (value) root.dataset[name] = value;
    byId('week').hidden = !seen.html['week-picture'];
    byId('sign').inert = false;
    root.dataset.seen = '';
    // An image comes with the first frame; a canvas would wait for the graphics.
    staff = Object.assign(new Image(), { className: 'seen', alt: '', decoding: 'sync', src: seen.picture });
    for (const side of ['width', 'height']) staff.style.setProperty('--canvas-' + side, seen[side] / devicePixelRatio + 'px');
    byId('stage').prepend(staff);
    if (root.dataset.words) await agremens.spoken; // the page is covered until its texts are there
    await painted();
    performance.mark('agremens-seen');
  }

  // painted waits until what stands there now is on the screen.
  async function painted() {
    await new Promise(requestAnimationFrame);
    // What waits in the page's line comes after this.
    await new Promise((resolve) => { globalThis.scheduler?.postTask ? scheduler.postTask(resolve, { priority: 'user-blocking' }) : setTimeout(resolve); });
  }

  // draw copies the staff in the frame in which it is drawn: after that the
  // browser takes what was drawn away.
  async function draw() {
    const canvas = byId('stage').querySelector('canvas');
    if (!canvas?.width) return null;
    const copy = Object.assign(document.createElement('canvas'), { width: canvas.width, height: canvas.height });
    const at = copy.getContext('2d', { willReadFrequently: true });
    dispatchEvent(new Event('resize')); // it is drawn once more
    for (let frame = 0; frame < 8; frame++) {
      await new Promise(requestAnimationFrame);
      at.drawImage(canvas, 0, 0);
      if (at.getImageData(0, 0, 1, 1).data[3] > 0) return { picture: copy.toDataURL(), width: copy.width, height: copy.height };
    }
    return null;
  }

  async function keep() {
    if (root.dataset.state !== 'ready' || document.hidden || document.querySelector('dialog[open]')) return;
    const title = byId('title-text').textContent;
    const seen = {
      now: now(), hash: title === first ? opened : '',
      data: Object.fromEntries(DATA.map((name) => [name, root.dataset[name] ?? ''])),
      html: Object.fromEntries(HTML.map((id) => [id, byId(id).innerHTML])),
      values: Object.fromEntries(VALUES.map((id) => [id, byId(id).value])),
    };
    const before = JSON.stringify(seen);
    if (before === keep.last) return;
    Object.assign(seen, await draw());
    const text = JSON.stringify(seen);
    if (!seen.picture || text.length > MOST || root.dataset.state !== 'ready' || seen.now !== now()) return;
    keep.last = before;
    localStorage.setItem(KEY, text);
  }

  let timer;
  function touched() {
    clearTimeout(timer);
    timer = setTimeout(() => keep().catch(() => {}), QUIET); // a full device keeps nothing
  }
  for (const kind of ['pointerup', 'keyup', 'change', 'resize']) addEventListener(kind, (event) => { if (event.isTrusted) touched(); }, { capture: true, passive: true });
  new MutationObserver(touched).observe(root, { attributes: true, attributeFilter: ['data-state', 'data-page', 'data-paper'] });
  // What is erased is not to be seen again either.
  document.addEventListener('click', (event) => {
    if (!event.target.closest?.('#erase-yes')) return;
    keep.last = null;
    localStorage.removeItem(KEY);
  });
  show().catch(() => {}).then(painted).then(agremens.paint);
})();
