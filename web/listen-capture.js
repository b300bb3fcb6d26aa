// The audio thread's end of listening: it gathers what the microphone gives,
// and what the page sounds meanwhile, and hands both to the worker that hears,
// past the page.
'use strict';

const BLOCK = 4096; // samples in one message

class Capture extends AudioWorkletProcessor {
	constructor() {
		super();
		this.begin();
		this.to = null;
		this.port.onmessage = ({ ports }) => { this.to = ports[0]; };
	}

	begin() {
		this.heard = new Float32Array(BLOCK);
		this.sent = new Float32Array(BLOCK);
		this.n = 0;
	}

	process([[heard], [sent]]) {
		const length = heard?.length ?? sent?.length;
		if (!length || !this.to) return true;
		for (let i = 0; i < length; i++) {
			this.heard[this.n] = heard ? heard[i] : 0;
			this.sent[this.n++] = sent ? sent[i] : 0;
			if (this.n < BLOCK) continue;
			this.to.postMessage([this.heard, this.sent], [this.heard.buffer, this.sent.buffer]);
			this.begin();
		}
		return true;
	}
}

registerProcessor('agremens-capture', Capture);
