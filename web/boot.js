// Prepares the page for the drawing library, then loads and starts the program.
'use strict';
(function () {
  const root = document.documentElement;

  const stage = document.getElementById('stage');
  const byId = (id) => document.getElementById(id);
  const { say, spoken } = agremens; // words.js

  // The drawing library appends a canvas to the body and sizes it from the
  // body. Here the canvas goes into the stage and the body answers with the
  // stage's size. The library reads the pixel ratio once, so later changes of
  // zoom are folded into the size.
  const ratio = devicePixelRatio;
  const size = { width: 1, height: 1 };

  // told returns the number that the library will turn into n whole pixels.
  function told(n) {
    for (n = Math.max(1, n); n > 1; n--) {
      for (const v of [n / ratio, n / ratio * (1 + 2e-16), n / ratio * (1 - 2e-16)]) {
        if (v * ratio === n) return v;
      }
    }
    return 1;
  }

  // measure lays the canvas on the screen's own pixels within the stage, so
  // that a pixel of the canvas is one of the screen's and nothing is blurred.
  function measure() {
    const box = stage.getBoundingClientRect();
    const grid = Number.isInteger(devicePixelRatio) ? 1 : devicePixelRatio;
    const fit = (start, length) => {
      const from = Math.ceil(start * grid - 0.01) / grid;
      const until = Math.max(from, Math.floor((start + length) * grid + 0.01) / grid);
      return [from - start, until - from];
    };
    const [left, width] = fit(box.left + scrollX, box.width);
    const [top, height] = fit(box.top + scrollY, box.height);
    for (const [name, value] of Object.entries({ left, top, width, height })) {
      stage.style.setProperty('--canvas-' + name, value + 'px');
    }
    size.width = told(Math.round(width * devicePixelRatio));
    size.height = told(Math.round(height * devicePixelRatio));
  }
  measure();
  Object.defineProperty(document.body, 'clientWidth', { get: () => size.width });
  Object.defineProperty(document.body, 'clientHeight', { get: () => size.height });
  addEventListener('resize', measure); // before the library's own listener
  // A change that comes while one is being told is told to nobody: so once
  // more, when everything has come to rest.
  const resized = () => dispatchEvent(new Event('resize'));
  let rest;
  const watch = new ResizeObserver(() => {
    resized();
    clearTimeout(rest);
    rest = setTimeout(resized, 200);
  });
  // Another state shows and hides what is above the stage.
  new MutationObserver(() => {
    clearTimeout(rest);
    rest = setTimeout(resized, 200);
  }).observe(root, { attributes: true, attributeFilter: ['data-state', 'data-page', 'data-round'] });
  for (const element of [stage, byId('who'), byId('message')]) watch.observe(element);
  const append = document.body.appendChild;
  document.body.appendChild = function (node) {
    if (node.tagName !== 'CANVAS') return append.call(this, node);
    document.body.appendChild = append;
    stage.appendChild(node);
    // It is the library that asks for the graphics: to try them first would
    // take as long again. The program says of it what the library said, and
    // then this stands in its place.
    node.getContext = (...how) => {
      const made = HTMLCanvasElement.prototype.getContext.apply(node, how);
      if (!made) setTimeout(fail, 0, say('This browser cannot draw the staff (WebGL 2 is missing or switched off). Please try a current browser, or switch hardware graphics on in its settings.'));
      return made;
    };
    setTimeout(() => {
      node.removeAttribute('tabindex');
      node.setAttribute('aria-hidden', 'true');
    });
    return node;
  };

  byId('message-close').addEventListener('click', () => { byId('message').hidden = true; });

  function fail(text) {
    root.dataset.state = 'error';
    byId('message-text').textContent = text;
    byId('message').hidden = false;
  }

  const bar = byId('load'), words = byId('load-text');
  const megabytes = (bytes) => (bytes / 1e6).toLocaleString(agremens.language, { minimumFractionDigits: 1, maximumFractionDigits: 1 });
  // count follows the download on a copy of the response.
  async function count(response, total) {
    const reader = response.body.getReader();
    let got = 0, told = 0;
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return;
      got += value.length;
      if (got - told < 1e5) continue; // it would say the same
      told = got;
      if (total > 0) bar.value = Math.min(1, got / total);
      words.textContent = total > 0 ? say('Loading the program, {got} of {total} MB …', { got: megabytes(got), total: megabytes(total) }) :
        say('Loading the program, {got} MB …', { got: megabytes(got) });
    }
  }

  async function load(imports) {
    agremens.arriving.then((copy) => count(copy, Number(byId('program').dataset.wasmBytes))).catch(() => {});
    const module = await agremens.program.catch(async (error) => {
      await spoken;
      throw error.status ? new Error(say('the program file could not be loaded ({status})', { status: error.status })) : error;
    });
    await spoken; // the program takes its texts when it starts
    return WebAssembly.instantiate(module, imports);
  }

  // keep lets the page open without a network from the next visit on. The
  // program and a round's sound come first: it begins in the first pause once
  // the program is whole, however short the visit.
  function keep() {
    if (!navigator.serviceWorker || !isSecureContext) return;
    let soon;
    const pauses = new MutationObserver(look);
    function look() {
      clearTimeout(soon);
      if (quiet() && root.dataset.whole !== undefined) soon = setTimeout(register, PAUSE);
    }
    function register() {
      pauses.disconnect();
      navigator.serviceWorker.register('sw.js').then(follow).catch(() => {});
    }
    pauses.observe(root, { attributes: true, attributeFilter: ['data-state', 'data-whole'] });
    look();
  }
  const PAUSE = 500; // ms

  const quiet = () => ['ready', 'result'].includes(root.dataset.state);

  // follow lets a new version take over once no round runs, and says so. What
  // is open goes on as it is until it is loaded again.
  function follow(registration) {
    let kept = Boolean(navigator.serviceWorker.controller); // an earlier version is at work
    const offer = (worker) => {
      if (worker.state !== 'installed') return;
      if (!quiet()) return void setTimeout(offer, 2000, worker);
      worker.postMessage('take over');
    };
    const watch = (worker) => {
      if (!worker || !navigator.serviceWorker.controller) return; // the first one has nothing to wait for
      offer(worker);
      worker.addEventListener('statechange', () => offer(worker));
    };
    watch(registration.waiting ?? registration.installing);
    registration.addEventListener('updatefound', () => watch(registration.installing));
    navigator.serviceWorker.addEventListener('controllerchange', () => {
      const first = !kept;
      kept = true;
      if (first) agremens.keepWords();
      if (first || !byId('message').hidden) return;
      byId('message-text').textContent = say('There is a new version on this device. It opens when you reload the page; your work is kept.');
      byId('message').hidden = false;
    });
  }

  // The browser's own offer of a place on the home screen, kept for the
  // student's page.
  addEventListener('beforeinstallprompt', (event) => {
    event.preventDefault();
    globalThis.agremens.install = event;
    dispatchEvent(new Event('agremens-install'));
  });

  // late says that a part of the program is still on its way, before a round
  // may need it, and takes that back when it is here.
  let lateText = '';
  function late(on) {
    const shown = byId('message-text'), before = lateText;
    if (on === Boolean(before)) return;
    lateText = on ? say('A part of the program has not arrived; perhaps the network is gone. It is asked for again and again; until it is here, opening files and some kinds of round have to wait.') : '';
    if (on && byId('message').hidden) {
      shown.textContent = lateText;
      byId('message').hidden = false;
    } else if (!on && shown.textContent === before) byId('message').hidden = true;
  }

  // paced lets the staff be drawn when there is time. The frame after a tap is
  // the page's own, which shows the pressed place and its ink at once; the staff
  // is drawn in the next one. Where drawing takes longer than a frame, every
  // second one is left out, or taps would wait behind it.
  function paced(plain) {
    let tapped = false, last = 0, left = true;
    for (const kind of ['pointerdown', 'keydown']) {
      addEventListener(kind, (event) => { tapped ||= root.dataset.round === 'tap' && !event.repeat; }, true);
    }
    return (draw) => {
      const turn = (now) => {
        const slow = root.dataset.round === 'tap' && now - last > LONG;
        last = now;
        if (tapped || slow && !left) {
          left = true;
          tapped = false;
          return void plain(turn);
        }
        left = false;
        draw(now);
      };
      return plain(turn);
    };
  }
  const LONG = 30; // ms between frames, where 60 a second are meant

  async function start() {
    if (typeof WebAssembly !== 'object') {
      await spoken;
      return fail(say('This browser cannot run the program (WebAssembly is missing or switched off). Please try a current browser.'));
    }
    if (typeof Go !== 'function') {
      await spoken;
      return fail(say('A part of the program is missing (wasm_exec.js). Please reload the page.'));
    }
    const go = new Go();
    const missing = () => fail(say('A part of the program did not arrive; perhaps the network is gone. Your work is kept: please reload the page when it is back.'));
    let instance;
    try {
      const { rest } = byId('program').dataset;
      instance = await load(go.importObject);
      words.textContent = say('Starting …');
      if (!rest) root.dataset.whole = ''; // it was built in one part
      else agremens.bringRest(instance.exports, rest, missing, await agremens.rest, late);
    } catch (error) {
      await spoken;
      return fail(say('The program could not start: {error}. Please reload the page.', { error: error.message }));
    }
    keep();
    agremens.watch(go);
    // The library takes the browser's clock of frames for itself as it begins.
    const frames = window.requestAnimationFrame;
    window.requestAnimationFrame = paced(frames.bind(window));
    const ran = go.run(instance);
    window.requestAnimationFrame = frames;
    await ran;
  }
  start();
})();
