// The audio thread's end of the sound: it takes interleaved stereo blocks,
// plays them from a ring, and says exactly where it stands. It answers to the
// name under which oto asks for its processor, and keeps to oto's protocol:
// every message out asks for one block more.

const RING = 1 << 16;    // frames
const LOW = 16384;       // frames below which more is asked for: a third of a second
const DEEPER = 8192;     // frames more after every hole: the machine is busier than thought
const DEEPEST = 40960;   // and no more than that
const BLOCK = 4096;      // frames that come with each answer

class Processor extends AudioWorkletProcessor {
	constructor() {
		super();
		this.ring = new Float32Array(2 * RING);
		this.written = 0;  // frames received
		this.played = 0;   // frames played
		this.gap = 0;      // frames of silence for want of ours
		this.asked = 0;    // blocks on their way
		this.low = LOW;
		this.begun = false;
		this.starved = false;
		this.port.onmessage = (event) => this.receive(event.data);
	}

	receive(block) {
		this.asked = Math.max(0, this.asked - 1);
		const frames = Math.min(block.length / 2, RING - (this.written - this.played));
		let at = this.written % RING;
		const first = Math.min(frames, RING - at);
		this.ring.set(block.subarray(0, 2 * first), 2 * at);
		this.ring.set(block.subarray(2 * first, 2 * frames), 0);
		this.written += frames;
	}

	// Each message asks for a block and carries a mark: our frame `played`
	// stands at the context's frame `currentFrame`.
	ask() {
		this.asked++;
		this.port.postMessage([currentFrame, this.played, this.gap, this.written - this.played]);
	}

	process(inputs, outputs) {
		const out = outputs[0], left = out[0], right = out[1] ?? out[0];
		let waiting = this.written - this.played;
		while (waiting + this.asked * BLOCK < this.low) this.ask();

		// The first sound waits until the ring is filled, and after a hole
		// until a whole block is there.
		if (!this.begun) {
			if (waiting < LOW) return true;
			this.begun = true;
		}
		if (this.starved) {
			if (waiting < BLOCK) {
				this.gap += left.length;
				return true;
			}
			this.starved = false;
			this.ask(); // tells at once where the sound goes on
		}
		const n = Math.min(left.length, waiting);
		let at = 2 * (this.played % RING);
		for (let i = 0; i < n; i++) {
			left[i] = this.ring[at];
			right[i] = this.ring[at + 1];
			if ((at += 2) === 2 * RING) at = 0;
		}
		this.played += n;
		if (n < left.length) {
			this.gap += left.length - n;
			this.starved = true;
			this.low = Math.min(this.low + DEEPER, DEEPEST);
		}
		return true;
	}
}

registerProcessor('oto-worklet-processor', Processor);
