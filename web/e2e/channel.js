// Runs in the page of any browser: takes orders from the test that served the
// page and sends back what came of them. Needs no driver.
(() => {
  const root = document.documentElement;
  const byId = (id) => document.getElementById(id);
  const orders = {
    state: () => root.dataset.state,
    click: (id) => byId(id).click(),
    check: (id, on) => { if (byId(id).checked !== on) byId(id).click(); },
    keep: (key, value) => localStorage.setItem(key, value),
    arm: (plan) => window.__robot.arm(plan),
    rest: () => window.__robot.rest(),
    later: (ms) => { window.__robot.extra = ms; },
    read: () => {
      const r = window.__robot, out = byId('result');
      return {
        rate: r.context?.sampleRate, onsets: r.onsets, stood: r.stood, holes: r.holes, taps: r.taps, lines: r.lines.slice(-1200),
        origin: performance.timeOrigin, now: performance.now(),
        result: { ...out.dataset }, text: out.innerText, wrong: r.wrong, message: byId('message').hidden ? '' : byId('message-text').textContent,
      };
    },
    // load keeps the main thread busy for so many ms in every so many.
    load: (busy, every) => {
      clearInterval(window.__robot.load);
      if (busy > 0) window.__robot.load = setInterval(() => { for (const end = performance.now() + busy; performance.now() < end;); }, every);
    },
    // follow taps so many ms after the pad of the measuring lights up.
    follow: (ms) => {
      const pad = byId('calibrate-pad');
      new MutationObserver(() => {
        if (pad.classList.contains('lit') && !pad.seen) window.__robot.press('KeyJ', performance.now() + ms);
        pad.seen = pad.classList.contains('lit');
      }).observe(pad, { attributes: true, attributeFilter: ['class'] });
    },
    measured: () => ({ text: byId('calibrate-text').textContent, keep: !byId('calibrate-keep').hidden, start: !byId('calibrate-start').hidden, ...byId('calibrate').dataset }),
    delay: () => byId('delay-text').textContent,
    fill: (id, value) => {
      const e = byId(id);
      e.value = value;
      for (const name of ['input', 'change']) e.dispatchEvent(new Event(name, { bubbles: true }));
    },
    // middle returns where on the screen an element is, brought in sight.
    middle: (selector) => {
      const e = document.querySelector(selector);
      e.scrollIntoView({ block: 'nearest' });
      const box = e.getBoundingClientRect();
      const at = [box.x + box.width / 2, box.y + box.height / 2];
      const top = document.elementFromPoint(...at);
      if (top !== e && !e.contains(top) && !e.closest('label')?.contains(top)) throw new Error(`${selector} is covered by ${top?.outerHTML.slice(0, 80)}`);
      // Firefox says where its page is; of the others the page is at the window's foot.
      return [at[0] + (window.mozInnerScreenX ?? screenX), at[1] + (window.mozInnerScreenY ?? screenY + outerHeight - innerHeight)];
    },
    look: (selectors) => Object.fromEntries(Object.entries(selectors).map(([name, selector]) => [name, document.querySelector(selector)?.innerText ?? null])),
    value: (id) => byId(id).value,
    shown: (id) => byId(id).checkVisibility(),
    page: () => ({
      page: root.dataset.page ?? '', sideways: document.scrollingElement.scrollWidth - innerWidth, width: innerWidth, height: innerHeight,
      worker: Boolean(navigator.serviceWorker?.controller), share: Boolean(navigator.share), clipboard: Boolean(navigator.clipboard), copied: window.__robot.copied ?? '',
      open: document.querySelector('dialog[open]')?.id ?? '',
    }),
    reload: () => location.reload(),
    goto: (query) => { location.href = query; },
  };

  window.__robot.wrong = [];
  // What the page puts on the clipboard, whether the browser lets it or not.
  const clipboard = navigator.clipboard, write = clipboard?.writeText;
  if (write) clipboard.writeText = (text) => write.call(clipboard, text).then(() => { window.__robot.copied = text; });
  addEventListener('error', (e) => window.__robot.wrong.push(String(e.message)));
  addEventListener('unhandledrejection', (e) => window.__robot.wrong.push(String(e.reason)));

  // A browser may lose a request while a service worker takes over, so each
  // has its time and is made again. All are POST: the page's own service worker
  // keeps what is fetched with GET, and would answer with an order of before.
  const ask = async (url, options) => {
    for (;;) {
      try {
        return await (await fetch(url, { method: 'POST', cache: 'no-store', signal: AbortSignal.timeout(8000), ...options })).json();
      } catch {
        await new Promise((resolve) => setTimeout(resolve, 200));
      }
    }
  };
  const tell = (what) => ask('/__robot/done', { body: JSON.stringify(what) });

  async function obey() {
    for (let last = {}; ;) {
      const order = await ask('/__robot/next');
      if (!order.name) continue;
      if (order.id !== last.id) {
        try {
          last = { id: order.id, value: orders[order.name](...order.args) ?? null };
        } catch (error) {
          last = { id: order.id, error: String(error) };
        }
      }
      await tell(last);
    }
  }
  addEventListener('load', () => {
    tell({ hello: location.search }).then(obey);
  });
})();
