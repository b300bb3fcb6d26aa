// Runs in the page before any of its scripts: puts an ear between every node
// and the loudspeaker, keeps the line from sound time to performance.now(),
// and taps. The page under test knows nothing of it.
(() => {
  const plainConnect = AudioNode.prototype.connect;
  const PlainNode = AudioWorkletNode;
  const plainAdd = AudioWorklet.prototype.addModule;
  const PlainContext = AudioContext;
  const ears = new WeakMap(); // context → the node everything passes through

  const robot = window.__robot = {
    context: null,
    onsets: [],   // context frames at which a sound began after silence
    holes: [],    // [context frame, frames]: stream torn off and resumed
    lines: [],    // [performance ms, offset ms]: heard ms = offset + frame / rate * 1000
    taps: [],     // [onset frame, timeStamp ms]
    stood: 0,     // ms: the longest time for which the sound's own thread did not run
    states: [],   // [ms, data-state]
    plan: null,
  };

  window.AudioContext = class extends PlainContext {
    constructor(...args) {
      super(...args);
      const ear = new GainNode(this);
      plainConnect.call(ear, this.destination);
      ears.set(this, ear);
      robot.context = this;
      plainAdd.call(this.audioWorklet, '/__robot/ear.js').then(() => {
        const node = new PlainNode(this, 'robot-ear');
        node.port.onmessage = ({ data }) => hear(data);
        plainConnect.call(ear, node);
        plainConnect.call(node, this.destination);
      });
    }
  };

  AudioNode.prototype.connect = function (to, ...rest) {
    const ear = ears.get(this.context);
    if (ear && to === this.context.destination) {
      plainConnect.call(this, ear, ...rest);
      return to;
    }
    return plainConnect.call(this, to, ...rest);
  };

  // extra is what the browser does not tell of the way to the ear, in ms.
  robot.extra = 0;

  setInterval(() => {
    const c = robot.context;
    if (!c || c.state !== 'running' || !(c.currentTime > 0)) return;
    const now = performance.now(), direct = now - c.currentTime * 1000;
    const { contextTime, performanceTime } = c.getOutputTimestamp?.() ?? {};
    const out = performanceTime - contextTime * 1000;
    // Chromium's line holds the delay; others tell it beside their line, or not at all.
    const holds = contextTime > 0 && Math.abs(performanceTime - now) < 1000 && robot.sees(out - direct);
    robot.lines.push([now, (holds ? out : direct + (c.outputLatency || 0) * 1000) + robot.extra, holds]);
  }, 40);

  const leads = [];
  robot.sees = (lead) => {
    leads.push(lead);
    if (leads.length > 25) leads.shift();
    return leads.length < 5 || [...leads].sort((a, b) => a - b)[leads.length >> 1] > 4;
  };

  // lineOf takes from samples what they have in common: an output's own line
  // jitters to both sides; currentTime is only ever old.
  robot.lineOf = (lines) => {
    const offsets = lines.map(([, offset]) => offset).sort((a, b) => a - b);
    return offsets[lines.at(-1)?.[2] ? offsets.length >> 1 : Math.floor(0.1 * (offsets.length - 1))];
  };

  // heard returns when a context frame is heard, in ms of performance.now(),
  // by the line of the three seconds before `until`.
  robot.heard = (frame, until = performance.now()) => {
    const near = robot.lines.filter(([at]) => at <= until && at > until - 3000);
    return near.length ? robot.lineOf(near) + frame / robot.context.sampleRate * 1000 : NaN;
  };

  function hear({ onset, hole, stood }) {
    if (hole) robot.holes.push(hole);
    if (stood) robot.stood = Math.max(robot.stood, stood);
    if (onset === undefined) return;
    robot.onsets.push(onset);
    const plan = robot.plan;
    if (!plan) return;
    const n = plan.heard++;
    if (plan.pattern) {
      // Everything follows from the first sound; the rest is only checked.
      if (n === 0) plan.pattern.slice(plan.skip).forEach((rel) => tapAt(onset + rel, plan));
    } else if (n >= plan.skip) {
      tapAt(onset, plan);
    }
  }

  // tapAt taps plan.delay ms after a context frame is heard. Like a key whose
  // event is delivered late because the page was busy, the event carries the
  // time of the tap, not that of its making.
  function tapAt(frame, plan) {
    const due = robot.heard(frame) + plan.delay;
    const left = due - performance.now();
    if (!(left < 4)) return setTimeout(() => tapAt(frame, plan), Math.max(4, left - 2 || 0));
    robot.taps.push([frame, due]);
    robot.press(plan.codes[plan.tapped++ % plan.codes.length], due);
  }

  robot.press = (code, at) => {
    const init = { code, key: code.slice(-1).toLowerCase(), bubbles: true, cancelable: true };
    const event = new KeyboardEvent('keydown', init);
    Object.defineProperty(event, 'timeStamp', { value: at });
    (document.activeElement || document.body).dispatchEvent(event);
    setTimeout(() => document.body.dispatchEvent(new KeyboardEvent('keyup', init)), 20);
  };

  // arm makes the robot tap: delay in ms (late positive), skip sounds first
  // (the count-in), with the given key codes in turn. With a pattern (frames
  // from the first sound) it taps ahead of hearing.
  robot.arm = ({ delay, skip = 0, codes, pattern = null }) => {
    robot.onsets.length = robot.taps.length = robot.holes.length = robot.stood = 0;
    robot.plan = { delay, skip, codes, pattern, heard: 0, tapped: 0 };
  };
  robot.rest = () => {
    robot.onsets.length = robot.taps.length = robot.holes.length = robot.stood = 0;
    robot.plan = null;
  };

  document.addEventListener('DOMContentLoaded', () => {
    const root = document.documentElement;
    const note = () => robot.states.push([performance.now(), root.dataset.state]);
    note();
    new MutationObserver(note).observe(root, { attributes: true, attributeFilter: ['data-state'] });
  });
})();
