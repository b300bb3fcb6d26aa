// Counts and times what a program does, whichever it is: frames it draws,
// every entry into it, when it drew and sounded first.
'use strict';
(function () {
  const cost = globalThis.__cost = { frames: [], entries: [], firstFrame: 0, begun: 0, drawn: 0, memory: () => 0, sounding: 0, state: () => '' };
  const most = 200_000;
  for (const name of ['drawElements', 'drawArrays', 'clear']) {
    const draw = WebGL2RenderingContext.prototype[name];
    WebGL2RenderingContext.prototype[name] = function (...args) {
      if (!cost.firstFrame && name !== 'clear') cost.firstFrame = performance.now();
      cost.drawn++;
      return draw.apply(this, args);
    };
  }
  // A frame is a callback of the browser's in which something was drawn, up to
  // the moment it was handed over: then the program goes on with what else is
  // due, such as sound, which belongs to the entries.
  const { flush } = WebGL2RenderingContext.prototype;
  let handed = 0;
  WebGL2RenderingContext.prototype.flush = function () {
    flush.call(this);
    handed = performance.now();
  };
  const ask = globalThis.requestAnimationFrame;
  globalThis.requestAnimationFrame = (f) => ask((at) => {
    const before = cost.drawn, from = performance.now();
    f(at);
    if (cost.drawn > before && handed > from && cost.frames.length < most) cost.frames.push(handed - from);
  });
  let Go;
  Object.defineProperty(globalThis, 'Go', {
    get: () => Go,
    set(made) {
      Go = made;
      const { run, _resume } = Go.prototype;
      Go.prototype.run = function (instance) {
        cost.begun = performance.now();
        cost.memory = () => instance.exports.mem.buffer.byteLength;
        return run.call(this, instance);
      };
      Go.prototype._resume = function () {
        const from = performance.now();
        _resume.call(this);
        if (cost.entries.length < most) cost.entries.push(performance.now() - from);
      };
    },
  });
  // When what was compiled stood ready, the desk was read back, a place to draw
  // on was made, and the page said that it is ready.
  for (const name of ['instantiateStreaming', 'instantiate']) {
    const make = WebAssembly[name];
    WebAssembly[name] = async (...args) => {
      const made = await make.apply(WebAssembly, args);
      cost.instance ||= performance.now();
      return made;
    };
  }
  const { getItem } = Storage.prototype;
  Storage.prototype.getItem = function (key) {
    if (cost.begun && key === 'agremens.desk') cost.desk ||= performance.now();
    return getItem.call(this, key);
  };
  const { getContext } = HTMLCanvasElement.prototype;
  HTMLCanvasElement.prototype.getContext = function (...args) {
    if (cost.begun) cost.canvas ||= performance.now();
    return getContext.apply(this, args);
  };
  new MutationObserver(() => {
    const { state } = document.documentElement?.dataset ?? {};
    if (!state || state === 'loading' || cost.ready) return;
    cost.ready = performance.now();
    performance.mark('agremens-ready');
  }).observe(document, { subtree: true, childList: true, attributes: true, attributeFilter: ['data-state'] });
  // When a context's time began to run after the first gesture.
  const Context = globalThis.AudioContext;
  let gesture = 0;
  addEventListener('pointerdown', (event) => { gesture ||= event.timeStamp; }, true);
  globalThis.AudioContext = class extends Context {
    constructor(...args) {
      super(...args);
      cost.state = () => `${this.state} ${this.currentTime}`;
      const watch = setInterval(() => {
        if (!gesture || this.state !== 'running' || this.currentTime === 0) return;
        cost.sounding = performance.now() - gesture;
        clearInterval(watch);
      }, 2);
    }
  };
})();
