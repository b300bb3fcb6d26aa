// A piano in the room of the page's loudspeaker, for tests: its output is what
// a microphone there hears. It plays a take from the moment at which the page
// begins to sound after a silence, and adds what the page sounds, late and
// softer as in a room.
globalThis.registerProcessor?.('robot-piano', class extends AudioWorkletProcessor {
  constructor({ processorOptions: { take, late, loud } }) {
    super();
    Object.assign(this, { take, late, loud, at: -1, quiet: 0, line: new Float32Array(48000), n: 0 });
  }

  process([input], [[out]]) {
    for (let i = 0; i < out.length; i++) {
      const x = input.length ? (input[0][i] + (input[1] ?? input[0])[i]) / 2 : 0;
      if (Math.abs(x) > 1e-5) {
        if (this.at < 0 && this.quiet > 9600) this.at = 0;
        this.quiet = 0;
      } else this.quiet++;
      this.line[this.n % 48000] = x;
      out[i] = this.loud * (this.n >= this.late ? this.line[(this.n - this.late) % 48000] : 0);
      // Who plays goes with what is heard.
      const from = this.at - (this.loud ? this.late : 0);
      if (this.at >= 0) {
        if (from >= 0 && from < this.take.length) out[i] += this.take[from] / 32768;
        this.at++;
      }
      this.n++;
    }
    return true;
  }
});
