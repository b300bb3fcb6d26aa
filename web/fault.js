// Says in words what cannot go on, and offers the way out. Nothing here needs
// the program: it may be what has stopped.
'use strict';
(function () {
  const { say } = agremens; // words.js
  const root = document.documentElement;
  const byId = (id) => document.getElementById(id);
  const KEY = 'agremens.faults'; // in the tab's storage: how often in a row the program stopped early
  const EARLY = 20_000; // ms; a fault that comes this soon may come again at every load

  const button = (label, deed) => {
    const made = document.createElement('button');
    made.type = 'button';
    made.textContent = label;
    made.addEventListener('click', deed);
    return made;
  };

  // notice shows a text with one button beneath the header, beside which
  // everything goes on. It returns what takes the notice away.
  agremens.notice = function (text, label, deed) {
    const notice = document.createElement('div');
    notice.className = 'notice';
    notice.setAttribute('role', 'alert');
    const words = document.createElement('p');
    words.textContent = text;
    notice.append(words, button(label, deed));
    byId('message').before(notice);
    return () => notice.remove();
  };

  // again loads the page once more; fresh does so without what the browser
  // keeps of the program itself. What the user has done is kept elsewhere.
  const again = () => location.reload();
  agremens.fresh = async function () {
    try {
      for (const name of await caches.keys()) if (name.startsWith('agremens ')) await caches.delete(name);
      for (const worker of await navigator.serviceWorker.getRegistrations()) await worker.unregister();
    } catch { /* there is none where the page may keep nothing */ }
    again();
  };

  // without opens the page without what lay on the desk, which is put aside.
  function without() {
    try {
      const saved = localStorage.getItem('agremens.desk') ?? '';
      const id = decodeURIComponent((/^passage (.*)$/m.exec(saved)?.[1] ?? '').replaceAll('+', ' '));
      for (const name of ['agremens.desk', 'agremens.desk.' + id]) {
        const value = localStorage.getItem(name);
        if (value !== null) localStorage.setItem('agremens.aside' + name.slice('agremens.desk'.length), value);
        localStorage.removeItem(name);
      }
      localStorage.removeItem('agremens.page');
    } catch { /* nothing is kept, so nothing comes back */ }
    location.assign(location.pathname);
  }

  function early() {
    try {
      const times = performance.now() < EARLY ? 1 + Number(sessionStorage.getItem(KEY)) : 1;
      sessionStorage.setItem(KEY, String(times));
      return times;
    } catch {
      return 1;
    }
  }
  setTimeout(() => { try { sessionStorage.removeItem(KEY); } catch { /* as above */ } }, EARLY);

  let over = false;
  // stopped tells that the program cannot go on. Nothing else on the page
  // answers any more, and whatever covers the words is closed. deed is what
  // the button does.
  agremens.stopped = function (text, deed = again) {
    if (over) return;
    over = true;
    root.dataset.state = 'error';
    for (const sheet of document.querySelectorAll('dialog[open]')) sheet.close();
    const message = byId('message'), close = byId('message-close');
    for (const element of document.body.children) element.inert = element !== message;
    const ways = [button(say('Load the page again'), deed)];
    if (deed === again && early() > 1) {
      text += ' ' + say('It has stopped twice in a row: the passage on the desk may be the cause. The page also opens without it; the passage stays on this device.');
      ways.push(button(say('Open without the passage'), without));
    }
    byId('message-text').textContent = text;
    close.replaceWith(...ways);
    message.hidden = false;
    ways[0].focus();
  };

  // watchOver tells when a started program stops: it ends, or a fault in it is
  // one that Go cannot end it for. Nothing calls it then.
  agremens.watchOver = function (go, ended) {
    const stopped = () => {
      go._resume = () => {}; // timers and frames go on asking
      agremens.stopped(say('The program has stopped because of a fault. Your work is kept on this device: please load the page again.'));
    };
    ended.then(stopped, stopped);
    addEventListener('error', ({ error }) => {
      if (error instanceof WebAssembly.RuntimeError || error instanceof RangeError) stopped();
    });
  };
})();
