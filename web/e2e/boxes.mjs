// faultyBoxes runs in the page as it stands, or in the sheet or menu over it,
// and returns what is cut, sticks out sideways or is covered, each with its
// name.
export function faultyBoxes() {
  const root = [...document.querySelectorAll('dialog[open]')].at(-1) ?? document.querySelector('.menu[open] > .panel') ?? document.body;
  const name = (e) => e.id || e.getAttribute('aria-label') || e.textContent.trim().slice(0, 30) || e.className;
  const seen = (e) => e.checkVisibility({ visibilityProperty: true }) && !e.closest('.unseen, .skip, #print, #scroll, [data-bare]');
  const out = [];
  const controls = [...root.querySelectorAll('button, select, textarea, input, summary, a[href]')].filter(seen);

  // Text that is wider or higher than what shows it.
  const pen = document.createElement('canvas').getContext('2d');
  for (const e of root.querySelectorAll('h1, h2, h3, p, button, summary, label, legend, output, small, span, select')) {
    if (!seen(e)) continue;
    const style = getComputedStyle(e), box = e.getBoundingClientRect();
    if (box.width < 2 || box.height < 2) continue;
    if (e.tagName === 'SELECT') {
      pen.font = `${style.fontStyle} ${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
      const text = pen.measureText(e.selectedOptions[0]?.text ?? '').width;
      const room = box.width - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight) - 20; // the arrow
      if (text > room + 1 && box.width < innerWidth * 0.8) out.push(`${name(e)}: its text is cut, ${Math.round(text)} in ${Math.round(room)}`);
      continue;
    }
    const clips = style.overflowX !== 'visible' || style.overflowY !== 'visible' || style.textOverflow === 'ellipsis';
    if (clips && !/auto|scroll/.test(style.overflowX + style.overflowY) && (e.scrollWidth > e.clientWidth + 1 || e.scrollHeight > e.clientHeight + 1)) out.push(`${name(e)}: its text is cut`);
    if (!e.matches('button, summary')) continue;
    const range = document.createRange();
    range.selectNodeContents(e);
    const text = range.getBoundingClientRect();
    if (text.left < box.left - 1 || text.right > box.right + 1 || text.top < box.top - 2 || text.bottom > box.bottom + 2) out.push(`${name(e)}: its text is cut, it overflows its button`);
  }

  // What sticks out of the window sideways.
  for (const e of [...controls, ...[...root.querySelectorAll('h1, h2, h3, p, legend, label')].filter(seen)]) {
    const box = (e.closest('label.button') ?? e).getBoundingClientRect();
    if (box.width > 1 && (box.right > innerWidth + 1 || box.left < -1)) out.push(`${name(e)} sticks out`);
  }
  if (document.scrollingElement.scrollWidth > innerWidth + 1) out.push('the page scrolls sideways');

  // Two controls on one place, and a control under something else once it has
  // been scrolled to.
  const boxes = controls.map((e) => [e, (e.closest('label.button') ?? e).getBoundingClientRect()]).filter(([, b]) => b.width > 1);
  const sticky = (e) => e.closest('#controls, .sheet-end, .made-top, .made-end, header, .act');
  for (let i = 0; i < boxes.length; i++) {
    for (let j = i + 1; j < boxes.length; j++) {
      const [[a, p], [b, q]] = [boxes[i], boxes[j]];
      if (a.contains(b) || b.contains(a) || sticky(a) !== sticky(b)) continue;
      const scroller = (e) => e.closest('#words, #task, .panel, dialog');
      if (scroller(a) !== scroller(b)) continue;
      const across = Math.min(p.right, q.right) - Math.max(p.left, q.left), down = Math.min(p.bottom, q.bottom) - Math.max(p.top, q.top);
      if (across > 2 && down > 2) out.push(`${name(a)} is covered by ${name(b)}`);
    }
  }
  for (const e of controls) {
    if (e.disabled || e.matches('input[type=file]')) continue;
    e.scrollIntoView({ block: 'center' });
    const box = e.getBoundingClientRect();
    if (box.width < 2) continue;
    const top = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
    if (top && !(e.contains(top) || top.contains(e) && top.closest('label, button, summary') || top.closest('label')?.contains(e))) out.push(`${name(e)} is covered by ${name(top)}`);
    if (!top) out.push(`${name(e)} cannot be scrolled to`);
  }
  scrollTo(0, 0);

  // What one plays with is in view: Stop while it sounds, else Listen or Tap.
  if (root === document.body && document.documentElement.dataset.place !== 'send') {
    for (const id of ['listen', 'tap']) {
      const e = document.getElementById(id);
      if (!seen(e)) continue;
      const b = e.getBoundingClientRect();
      if (b.top < -1 || b.bottom > innerHeight + 1) out.push(`${id} is not in view`);
    }
  }
  if (root === document.body && document.documentElement.dataset.page === 'student') {
    const next = ['go', 'stop'].map((id) => document.getElementById(id)).filter(seen);
    for (const e of next) {
      const b = e.getBoundingClientRect();
      if (b.top < -1 || b.bottom > innerHeight + 1) out.push(`${e.id} is not in view`);
    }
    if (next.length === 0) out.push('there is nothing to go on with');
  }
  return [...new Set(out)];
}
