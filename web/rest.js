// Brings the rest of the program. The build cuts the program in two, so that
// nobody waits for what a first visit does not call: the first part begins by
// itself, the rest joins it when the page has come up.
'use strict';
(function () {
  const LATE = 10_000; // ms until it is said that the rest has not come
  const PATIENCE = 20_000; // ms a chosen file waits; without a byte for so long the rest is given up for the moment
  const { say } = agremens; // words.js
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

  // loadRest loads what the file at address holds, unhurried. came is called
  // with each piece that arrives.
  agremens.loadRest = async function (address, { came = () => {}, ...how } = {}) {
    const response = await fetch(address, how);
    if (!response.ok) throw new Error(`${address}: ${response.status}`);
    const watched = response.body.pipeThrough(new TransformStream({ transform(piece, out) { came(); out.enqueue(piece); } }));
    return WebAssembly.compile(await new Response(watched).arrayBuffer());
  };

  // The rest of another build asks for what this first part has not.
  const foreign = (error) => error instanceof WebAssembly.LinkError;

  // bringRest joins the rest to the first part: at once where it is loaded
  // already, else it is loaded now and joined once no round runs, or when the
  // first part calls something of it. When it cannot be had then the first part
  // cannot go on: halt is called, and the page says so.
  agremens.bringRest = async function (first, address, halt, module) {
    let here = false;
    let moved = null; // when something of the load under way arrived last
    const join = () => {
      if (here) return;
      // Where nothing arrives, asking while everything waits would freeze the page.
      if (!module && moved !== null && performance.now() - moved > PATIENCE) throw new Error(`${address}: nothing arrives`);
      module ??= new WebAssembly.Module(ask(address));
      new WebAssembly.Instance(module, { first });
      here = true;
      root.dataset.whole = '';
    };
    first.table.set(0, callable(() => {
      try {
        join();
      } catch (error) {
        halt();
        if (foreign(error)) agremens.stopped(say('A part of the program belongs to another version of it. Your work is kept: please load the page again.'), agremens.fresh);
        else agremens.stopped(say('A part of the program did not arrive; perhaps the network is gone. Your work is kept: please reload the page when it is back.'));
        throw error; // what was called cannot go on
      }
    }));
    try {
      if (module) return join();
    } catch {
      module = null; // what is kept here does not fit; the network may have what does
    }
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
      document.getElementById('status').textContent = say('Opening {name} …', { name: input.files[0].name });
      await Promise.race([coming, pause(PATIENCE)]);
      patient = false;
      try {
        if (module) join();
      } catch { /* what is called says that it is missing */ }
      input.dispatchEvent(new Event('change', { bubbles: true }));
    }, true);

    while (!quiet()) await pause(50);
    // What has not come for a while is said once, while no round runs.
    let over = () => {}, told = false, hurry;
    const tell = async (text, label, deed) => {
      if (told) return;
      told = true;
      while (!quiet()) await pause(500);
      if (!here) over = agremens.notice(text, label, deed);
    };
    const begun = performance.now();
    const late = () => performance.now() - begun > LATE && !module &&
      tell(say('A part of the program has not arrived yet. What is open goes on, and the rest follows by itself.'), say('Try again now'), () => hurry());
    const looking = setInterval(late, 1000);
    for (let wait = 1000, how = {}; !here; wait = Math.min(60_000, 2 * wait)) {
      const given = new AbortController();
      const hurried = new Promise((resolve) => { hurry = () => { given.abort(); resolve(); }; });
      moved = performance.now();
      try {
        module ??= await agremens.loadRest(address, { ...how, signal: given.signal, came: () => { moved = performance.now(); } });
        moved = null;
        tried();
        while (!quiet()) await pause(1000);
        join();
      } catch (error) {
        module = moved = null;
        tried();
        how = { cache: 'reload' }; // a part of it, or another, may be what is kept
        if (foreign(error)) {
          tell(say('A part of the program belongs to another version of it. Your work is kept: please load the page again.'), say('Load the page again'), agremens.fresh);
        }
        await Promise.race([hurried, pause(wait)]);
      }
    }
    clearInterval(looking);
    over();
  };
})();
