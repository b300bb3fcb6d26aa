// Asks for the program as soon as may be, and has it compiled while everything
// else goes on. Puts the paper out that was chosen, and opens the place.
'use strict';
(function () {
  const PATIENCE = 2000; // ms for the first paint; a page that is not looked at has none
  const page = globalThis.agremens = globalThis.agremens || {};
  const { wasm, rest } = document.currentScript.dataset;
  // A service worker answers: this is not the first visit.
  const again = page.again = Boolean(navigator.serviceWorker?.controller);

  // From the second visit on the browser's own cache is asked first: only there
  // stands, beside the file, what the browser has compiled of it. A name with
  // a hash in it means one content for ever. Where the cache has lost that, the
  // copy that the service worker keeps answers, and else the network.
  async function stored(address) {
    if (!again || !/-[0-9a-f]{16}\.wasm$/.test(address)) return null;
    const response = await fetch(address, { cache: 'only-if-cached', mode: 'same-origin' });
    return response.ok ? compiled(response) : null;
  }

  async function compiled(response) {
    const typed = (response.headers.get('Content-Type') || '').startsWith('application/wasm');
    if (WebAssembly.compileStreaming && typed) return WebAssembly.compileStreaming(response);
    return WebAssembly.compile(await response.arrayBuffer());
  }

  async function fetched(address, arriving) {
    const response = await fetch(address);
    if (!response.ok) throw Object.assign(new Error(`${address}: ${response.status}`), { status: response.status });
    arriving(response);
    return compiled(response);
  }

  // bring gives the compiled module at address. arriving is handed the
  // response of a first visit. What breaks off on its way is asked for once
  // more.
  page.bring = async function (address, arriving = () => {}) {
    const here = await stored(address).catch(() => null);
    if (here) return here;
    return fetched(address, again ? () => {} : arriving).catch((error) => {
      if (error.status) throw error;
      return fetched(address, () => {});
    });
  };

  // The paper that was chosen last, before the program can say so.
  try {
    const paper = /^paper (light|dark)$/m.exec(localStorage.getItem('agremens.look') ?? '');
    if (paper) document.documentElement.dataset.paper = paper[1];
    const place = sessionStorage.getItem('agremens.place');
    if (place) document.documentElement.dataset.place = place;
  } catch { /* nothing may be kept here */ }

  if (typeof WebAssembly !== 'object') return; // boot.js says so
  // From the second visit on what was seen last is painted first (seen.js):
  // the program's bytes take the page's thread.
  if (again && !location.search) {
    // Nothing is drawn before that stands there: it would be laid out twice.
    const first = Object.assign(document.createElement('link'), { rel: 'expect', href: '#seen-end' });
    first.setAttribute('blocking', 'render');
    document.head.append(first);
  }
  const painted = !again ? Promise.resolve() : new Promise((resolve) => {
    page.paint = resolve;
    setTimeout(resolve, PATIENCE);
  });
  // The copy by which the page counts how much has come slows all of it down:
  // so what is here already is not counted.
  page.arriving = new Promise((resolve) => {
    page.program = painted.then(() => page.bring(wasm, (response) => { resolve(response.clone()); }));
  });
  page.program.catch(() => {}); // boot.js says so
  // Without a network nothing can be asked for while everything waits: so from
  // the second visit on the program begins with all of it.
  if (rest && again) page.rest = painted.then(() => page.bring(rest)).catch(() => null);
})();
