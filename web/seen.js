// The page before its program. What was seen last stands there at once, and
// what is pressed meanwhile is done when the program has come.
'use strict';
(function () {
  const root = document.documentElement;
  const byId = (id) => document.getElementById(id);
  const loading = () => root.dataset.state === 'loading';

  // What was pressed: steps in their order, and the round to begin after them.
  const STEPS = ['next-sign', 'prev-sign', 'slower', 'faster'], ROUNDS = ['listen', 'tap'], MOST_STEPS = 20;
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
    for (const e of document.querySelectorAll('#settings, #controls .act > :not(#status), #student button, #sign .walk > *, #sign > :not(.walk, .told)')) e.inert = on && !heard(e);
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

  // What was seen last is kept beside the copy of the page, not in the storage
  // where scores want their room: the words, and the staff as a picture.
  const CACHE = 'agremens-seen', MOST = 300_000; // letters, and bytes of the picture
  const QUIET = 1500; // ms in which nothing was touched
  const HTML = ['title-text', 'composer-text', 'sign-name', 'sign-picture', 'sign-notes', 'sign-fingers', 'sign-why', 'sign-sources',
    'choices', 'student-words', 'tempo-percent', 'tempo-unit'];
  const VALUES = ['tempo', 'tempo-number'];
  const opened = location.hash;
  let staff = null, first = ''; // the picture while it stands; the title that opened came with

  // now is what must be as it was for what was seen to be true.
  const now = () => JSON.stringify([sessionStorage.getItem('agremens.desk') ?? localStorage.getItem('agremens.desk'),
    localStorage.getItem('agremens.page'), agremens.language, getComputedStyle(root).backgroundColor, getComputedStyle(document.body).backgroundColor]);

  async function show() {
    if (location.search) return; // the address asks for something else
    const cache = await caches.open(CACHE);
    const [text, drawn] = await Promise.all(['seen', 'seen-picture'].map((name) => cache.match(name)));
    const seen = await text?.json();
    if (!seen || !loading() || seen.now !== now() || location.hash && location.hash !== seen.hash) return;
    await agremens.spoken;
    const blob = await drawn?.blob();
    const picture = blob?.size === seen.bytes ? await createImageBitmap(blob) : null;
    if (!loading()) return;
    for (const [id, html] of Object.entries(seen.html)) byId(id).innerHTML = html;
    for (const [id, value] of Object.entries(seen.values)) byId(id).value = value;
    if (seen.page) root.dataset.page = seen.page;
    byId('sign').inert = false;
    if (picture) {
      staff = document.createElement('canvas');
      staff.className = 'seen';
      staff.setAttribute('aria-hidden', 'true');
      [staff.width, staff.height] = [picture.width, picture.height];
      staff.getContext('2d').drawImage(picture, 0, 0);
      byId('stage').prepend(staff);
    }
    root.dataset.seen = '';
    performance.mark('agremens-seen');
  }

  // draw copies the staff in the frame in which it is drawn: after that the
  // browser takes what was drawn away.
  async function draw() {
    const canvas = byId('stage').querySelector('canvas:not(.seen)');
    if (!canvas?.width) return null;
    const copy = Object.assign(document.createElement('canvas'), { width: canvas.width, height: canvas.height });
    const at = copy.getContext('2d', { willReadFrequently: true });
    dispatchEvent(new Event('resize')); // it is drawn once more
    for (let frame = 0; frame < 8; frame++) {
      await new Promise(requestAnimationFrame);
      at.drawImage(canvas, 0, 0);
      if (at.getImageData(0, 0, 1, 1).data[3] > 0) return new Promise((resolve) => { copy.toBlob(resolve); });
    }
    return null;
  }

  async function keep() {
    if (root.dataset.state !== 'ready' || document.hidden || document.querySelector('dialog[open]')) return;
    const title = byId('title-text').textContent;
    const seen = {
      now: now(), hash: title === first ? opened : '', page: root.dataset.page ?? '',
      html: Object.fromEntries(HTML.map((id) => [id, byId(id).innerHTML])),
      values: Object.fromEntries(VALUES.map((id) => [id, byId(id).value])),
    };
    const before = JSON.stringify(seen);
    if (before === keep.last || before.length > MOST) return;
    const picture = await draw();
    if (!picture || picture.size > MOST || root.dataset.state !== 'ready' || seen.now !== now()) return;
    keep.last = before;
    seen.bytes = picture.size;
    const cache = await caches.open(CACHE);
    await cache.put('seen-picture', new Response(picture));
    await cache.put('seen', new Response(JSON.stringify(seen)));
  }

  let timer;
  function touched() {
    clearTimeout(timer);
    timer = setTimeout(() => keep().catch(() => {}), QUIET); // a full device keeps nothing
  }
  if (!globalThis.caches) return; // plain http
  for (const kind of ['pointerup', 'keyup', 'change', 'resize']) addEventListener(kind, (event) => { if (event.isTrusted) touched(); }, { capture: true, passive: true });
  new MutationObserver(touched).observe(root, { attributes: true, attributeFilter: ['data-state', 'data-page', 'data-paper'] });
  // What is erased is not to be seen again either.
  byId('erase-yes').addEventListener('click', () => {
    keep.last = null;
    caches.delete(CACHE).catch(() => {});
  });
  show().catch(() => {});
})();
