// What can be pressed, typed into or chosen from, of what is in view.

// inView returns the names of the controls in view, as a person counts them:
// what the window shows of the page, and of a sheet nothing else.
export const inView = (page) => page.evaluate(() => {
  const sheet = [...document.querySelectorAll('dialog[open]')].at(-1);
  return [...(sheet ?? document).querySelectorAll('button, select, textarea, input, summary, a[href], [role=button], [contenteditable]')]
    .filter((e) => e.checkVisibility({ visibilityProperty: true, opacityProperty: true }) && !e.matches('[type=hidden], .skip'))
    .filter((e) => {
      const box = (e.closest('label.button') ?? e).getBoundingClientRect();
      let [left, top, right, bottom] = [Math.max(0, box.left), Math.max(0, box.top), Math.min(innerWidth, box.right), Math.min(innerHeight, box.bottom)];
      for (let p = e.parentElement; p && p !== document.body; p = p.parentElement) {
        if (getComputedStyle(p).overflow === 'visible' || getComputedStyle(p).display === 'inline') continue;
        const clip = p.getBoundingClientRect();
        [left, top, right, bottom] = [Math.max(left, clip.left), Math.max(top, clip.top), Math.min(right, clip.right), Math.min(bottom, clip.bottom)];
      }
      return right - left > 4 && bottom - top > 4;
    })
    .map((e) => e.id || e.getAttribute('aria-label') || e.textContent.trim().slice(0, 30));
});
