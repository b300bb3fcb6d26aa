// Brings the rest of the program. The build cuts the program in two, so that
// nobody waits for what a first visit does not call: the first part begins by
// itself, the rest joins it when the page has come up.
'use strict';
(function () {
  const PATIENCE = 20_000; // ms a chosen file waits; then the rest is asked for anew
  const root = document.documentElement;
  const quiet = () => ['ready', 'result', 'error'].includes(root.dataset.state);
  const pause = (ms) => new Promise((resolve) => { setTimeout(resolve, ms); });

  // A module that gives out the one function it takes, both without a name:
  // a table holds no others than a module's.
  const gate = Uint8Array.of(0, 97, 115, 109, 1, 0, 0, 0, 1, 4, 1, 96, 0, 0, 2, 5, 1, 0, 0, 0, 0, 7, 4, 1, 0, 0, 0);
  const callable = (f) => new WebAssembly.Instance(new WebAssembly.Module(gate), { '': { '': f } }).exports[''];

  // ask loads a file while everything waits.
  function ask(address) {
    const request = new XMLHttpRequest();
    // Another name than that of the load under way, or it would wait for that.
    request.open('GET', address + '?now', false);
    request.overrideMimeType('text/plain; charset=x-user-defined'); // each byte a letter
    request.send();
    if (request.status !== 200) throw new Error(`${address}: ${request.status}`);
    const text = request.responseText;
    const bytes = new Uint8Array(text.length); // which keeps the low eight bits of a letter
    for (let i = 0; i < text.length; i++) bytes[i] = text.charCodeAt(i);
    return bytes;
  }

  // bringRest joins the rest to the first part: at once where it is loaded
  // already, else it is loaded now and joined once no round runs, or when the
  // first part calls something of it. missing is told when it cannot be had
  // then, late after each try: whether the rest is still not here.
  agremens.bringRest = async function (first, address, missing, module, late) {
    let here = false;
    const join = () => {
      if (here) return;
      module ??= new WebAssembly.Module(ask(address));
      new WebAssembly.Instance(module, { first });
      here = true;
      root.dataset.whole = '';
    };
    first.table.set(0, callable(() => {
      try {
        join();
      } catch (error) {
        missing();
        throw error; // what was called cannot go on
      }
    }));
    if (module) return join();
    // Nothing can be loaded any more when the page goes away: then the first
    // part is not told, and what each action kept is what is kept.
    document.addEventListener('visibilitychange', (event) => {
      if (!document.hidden) return;
      try {
        join();
      } catch {
        event.stopImmediatePropagation();
      }
    });
    // A file that is chosen while the rest is on its way waits for it, and the
    // page stays awake.
    let patient = true, tried;
    const coming = new Promise((resolve) => { tried = resolve; });
    document.addEventListener('change', async (event) => {
      const input = event.target;
      if (here || !patient || input.type !== 'file' || !input.files.length) return;
      event.stopImmediatePropagation();
      document.getElementById('status').textContent = agremens.say('Opening {name} …', { name: input.files[0].name });
      await Promise.race([coming, pause(PATIENCE)]);
      patient = false;
      try {
        if (module) join();
      } catch { /* what is called says that it is missing */ }
      input.dispatchEvent(new Event('change', { bubbles: true }));
    }, true);
    while (!quiet()) await pause(50);
    for (let wait = 1000; !here; wait = Math.min(60_000, 2 * wait)) {
      module ??= await agremens.bring(address).catch(() => null);
      tried();
      while (module && !quiet()) await pause(1000);
      try {
        if (module) join();
      } catch {
        module = null; // it is of another build
      }
      late(!here);
      if (!here) await pause(wait);
    }
  };
})();
