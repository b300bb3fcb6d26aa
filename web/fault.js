// Says that the program has stopped and what to do, whatever stopped it: Go's
// runtime ends it at a panic, the browser at a trap. What was kept stays kept.
'use strict';
(function () {
  const AGAIN = 60_000; // ms; who stops twice in this time stops over the same thing
  const WHEN = 'agremens.stopped', DESK = 'agremens.desk'; // names in the browser's storage
  const byId = (id) => document.getElementById(id);
  const sheet = byId('stopped');

  // Where storage is forbidden a browser throws as soon as it is named.
  const stored = (use) => { try { return use(); } catch { return null; } };

  // stop shows the sheet, and lets nothing of the program go run any more: its
  // memory may be in any state.
  function stop(go) {
    go.exited = true;
    go._resume = () => {};
    if (sheet.open) return;
    document.documentElement.dataset.state = 'error';
    agremens.audio?.context?.close().catch(() => {});
    const before = Number(stored(() => sessionStorage.getItem(WHEN)));
    stored(() => sessionStorage.setItem(WHEN, Date.now()));
    byId('stopped-kept').hidden = stored(() => localStorage.getItem(DESK)) === null;
    byId('stopped-again').hidden = byId('stopped-without').hidden = Date.now() - before > AGAIN;
    sheet.showModal();
  }

  // A trap tears the program's own frames away without a word of its runtime.
  const trap = (error) => error instanceof WebAssembly.RuntimeError ||
    error instanceof RangeError && /wasm/.test(error.stack); // the stack was full

  // watch waits for the end of the program go. One that ends in order has said
  // why.
  agremens.watch = (go) => {
    go.exit = (code) => { if (code) stop(go); };
    addEventListener('error', ({ error }) => { if (trap(error)) stop(go); });
    addEventListener('unhandledrejection', ({ reason }) => { if (trap(reason)) stop(go); });
  };

  sheet.addEventListener('cancel', (event) => event.preventDefault());
  sheet.addEventListener('close', () => sheet.showModal()); // there is nothing left behind it
  byId('stopped-reload').addEventListener('click', () => location.reload());
  // The desk is kept with its passage as well, so nothing is lost with it.
  byId('stopped-without').addEventListener('click', () => {
    stored(() => {
      const here = sessionStorage.getItem(DESK);
      sessionStorage.removeItem(DESK);
      if (here === null || here === localStorage.getItem(DESK)) localStorage.removeItem(DESK);
    });
    location.replace(location.pathname);
  });
})();
