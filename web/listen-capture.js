// The audio thread's end of listening: it gathers what the microphone gives
// and hands it to the worker that hears, past the page.
'use strict';

const BLOCK = 4096; // samples in one message

class Capture extends AudioWorkletProcessor {
	constructor() {
		super();
		this.block = new Float32Array(BLOCK);
		this.n = 0;
		this.to = null;
		this.port.onmessage = ({ ports }) => { this.to = ports[0]; };
	}

	process([input]) {
		const samples = input[0];
		if (!samples || !this.to) return true;
		for (const x of samples) {
			this.block[this.n++] = x;
			if (this.n < BLOCK) continue;
			this.to.postMessage(this.block, [this.block.buffer]);
			this.block = new Float32Array(BLOCK);
			this.n = 0;
		}
		return true;
	}
}

registerProcessor('agremens-capture', Capture);
