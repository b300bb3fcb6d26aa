// Says that the program has stopped and what to do, whatever stopped it: Go's
// runtime ends it at a panic, the browser at a trap.
'use strict';
(function () {
  const AGAIN = 60_000; // ms: who stops twice in this time stops over the same thing
  const WHEN = 'agremens.stopped', DESK = 'agremens.desk';
  const byId = (id) => document.getElementById(id);
  const sheet = byId('stopped');
  // A browser may forbid its storage.
  const stored = (use) => { try { return use(); } catch { return 0; } };

  // stop lets nothing of the program run any more: its memory may be in any
  // state.
  function stop(go) {
    go.exited = true;
    go._resume = () => {};
    go._scheduledTimeouts.clear(); // or wasm_exec.js resumes for ever
    if (sheet.open) return;
    document.documentElement.dataset.state = 'error';
    const before = stored(() => sessionStorage.getItem(WHEN));
    stored(() => sessionStorage.setItem(WHEN, Date.now()));
    const first = Date.now() - before > AGAIN;
    // A program that drew when the graphics went away may stop before it can
    // load the page again itself.
    if (first && document.querySelector('#stage canvas')?.getContext('webgl2')?.isContextLost()) return location.reload();
    byId('stopped-again').hidden = byId('stopped-without').hidden = first;
    sheet.showModal();
  }

  // watch waits for the end of the program; one that ends in order has said why.
  agremens.watch = (go) => {
    go.exit = (code) => { if (code) stop(go); };
    const look = (error) => {
      const full = error instanceof RangeError && /wasm/.test(error.stack); // the stack
      if (full || error instanceof WebAssembly.RuntimeError) stop(go);
    };
    addEventListener('error', (event) => look(event.error));
    addEventListener('unhandledrejection', (event) => look(event.reason));
  };

  sheet.addEventListener('close', () => sheet.showModal()); // there is nothing behind it
  byId('stopped-reload').addEventListener('click', () => location.reload());
  // The desk is kept with its passage too.
  byId('stopped-without').addEventListener('click', () => {
    stored(() => {
      const here = sessionStorage.getItem(DESK) ?? localStorage.getItem(DESK);
      sessionStorage.removeItem(DESK);
      if (here === localStorage.getItem(DESK)) localStorage.removeItem(DESK);
    });
    location.replace(location.pathname);
  });
})();
