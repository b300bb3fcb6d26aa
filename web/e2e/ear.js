// The robot's ear: an AudioWorklet that reports, in context frames, where a
// sound begins after silence and where a sounding stream is torn off, and, in
// ms, for how long the machine kept the sound's own thread from running.
const QUIET = 240;     // frames of silence before a sound counts as new
const FLOOR = 1e-5;    // below this is silence
const TORN = 16;       // exact zeros this long within sound are a hole
const SOUNDING = 2e-3; // on both sides of a hole
const LONGEST = 48000; // longer silences are rests
const STOOD = 40;      // ms by which a device that asks for blocks in a row is never late

registerProcessor('robot-ear', class extends AudioWorkletProcessor {
  quiet = QUIET;
  zeros = 0;
  before = 0; // the last sample that was not zero
  asked = 0;  // when the device asked last, in ms

  process([input]) {
    const now = Date.now();
    const late = now - this.asked - 128 / sampleRate * 1000;
    if (this.asked > 0 && late > STOOD) this.port.postMessage({ stood: late });
    this.asked = now;
    const left = input[0];
    if (!left) {
      this.quiet += 128;
      this.zeros += 128;
      return true;
    }
    const right = input[1] || left;
    for (let i = 0; i < left.length; i++) {
      const level = Math.max(Math.abs(left[i]), Math.abs(right[i]));
      if (level > FLOOR) {
        if (this.quiet >= QUIET) this.port.postMessage({ onset: currentFrame + i });
        this.quiet = 0;
      } else {
        this.quiet++;
      }
      if (level === 0) {
        this.zeros++;
        continue;
      }
      if (this.zeros >= TORN && this.zeros < LONGEST && this.before > SOUNDING && level > SOUNDING) {
        this.port.postMessage({ hole: [currentFrame + i - this.zeros, this.zeros] });
      }
      this.zeros = 0;
      this.before = level;
    }
    return true;
  }
});
