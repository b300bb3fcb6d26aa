// Asks for the program as soon as the page begins to be read, and has it
// compiled while everything else goes on.
'use strict';
(function () {
  const page = globalThis.agremens = globalThis.agremens || {};
  const { wasm, rest } = document.currentScript.dataset;
  // A service worker answers: this is not the first visit.
  const again = page.again = Boolean(navigator.serviceWorker?.controller);

  // ask prefers the browser's own cache from the second visit on: only there
  // stands, beside the file, what the browser has compiled of it. A name with
  // a hash in it means one content for ever; where the cache has lost that,
  // the copy that the service worker keeps answers, and else the network.
  async function ask(address) {
    if (again && /-[0-9a-f]{16}\.wasm$/.test(address)) {
      const here = await fetch(address, { cache: 'only-if-cached', mode: 'same-origin' }).catch(() => null);
      if (here?.ok) return here;
    }
    return fetch(address);
  }

  // bring gives the compiled module at address. arriving is handed a copy of
  // the response.
  page.bring = async function (address, arriving = () => {}) {
    const response = await ask(address);
    if (!response.ok) throw Object.assign(new Error(`${address}: ${response.status}`), { status: response.status });
    arriving(response);
    const typed = (response.headers.get('Content-Type') || '').startsWith('application/wasm');
    if (WebAssembly.compileStreaming && typed) return WebAssembly.compileStreaming(response);
    return WebAssembly.compile(await response.arrayBuffer());
  };

  if (typeof WebAssembly !== 'object') return; // boot.js says so
  // The copy by which the page counts how much has come slows all of it down:
  // so what is here already is not counted.
  page.arriving = new Promise((resolve) => {
    page.program = page.bring(wasm, (response) => { if (!again) resolve(response.clone()); });
  });
  page.program.catch(() => {}); // boot.js says so
  // Without a network nothing can be asked for while everything waits: so from
  // the second visit on the program begins with all of it.
  if (rest && again) page.rest = page.bring(rest).catch(() => null);
})();
