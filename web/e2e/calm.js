// Runs in the page before any of its scripts, where nothing is measured:
// fifteen pictures a second are enough to look at, and drawing by software is
// most of what a sounding page costs.
(() => {
  const SHORTEST = 1000 / 15; // ms from one frame to the next
  const plain = window.requestAnimationFrame.bind(window);
  let last = 0;
  window.requestAnimationFrame = (draw) => {
    const frame = () => plain((now) => {
      last = now;
      draw(now);
    });
    const left = last + SHORTEST - performance.now();
    return left > 5 ? setTimeout(frame, left) : frame();
  };
})();
