// Runs before the program. It keeps hold of the audio context that oto makes,
// gives it our own worklet, wakes it whenever a hand touches the page, and
// notes what the clock needs to know: see agremens.audio.poll.
'use strict';
(() => {
	const here = document.currentScript.src;

	const audio = {
		context: null,
		node: null,      // what sounds in it
		mode: '',        // 'worklet', 'script' (no AudioWorklet) or '' before
		posted: 0,       // frames handed to the audio thread
		failed: '',      // what went wrong, in the browser's words
		get held() { return ['suspended', 'interrupted'].includes(audio.context?.state); },
		poll,
		resume,
	};
	globalThis.agremens = Object.assign(globalThis.agremens ?? {}, { audio });

	// Records for the clock, eight numbers each: kind, then
	//  1 mark:   context frame, our frame, gap frames, frames left, now, exact
	//  2 sample: now, currentTime, output contextTime, output performanceTime,
	//            outputLatency, baseLatency
	//  3 state:  now, 1 running or 0 not
	//  4 device: now; an output of sound came or went
	const STRIDE = 8, MOST = 2000;
	let records = [];

	function note(...numbers) {
		while (numbers.length < STRIDE) numbers.push(0);
		if (records.length >= MOST * STRIDE) records.splice(0, STRIDE);
		records.push(...numbers);
	}

	function poll() {
		const out = Float64Array.from(records);
		records = [];
		return out;
	}

	function sample() {
		const context = audio.context;
		if (!context || context.state !== 'running') return;
		const out = context.getOutputTimestamp?.();
		note(2, performance.now(), context.currentTime, out?.contextTime ?? 0, out?.performanceTime ?? 0,
			context.outputLatency || 0, context.baseLatency || 0);
	}
	setInterval(sample, 50);

	let wanted = false; // it has run once, so it should go on running

	// oto's own listeners are gone after the first success; after a phone
	// call or a lost device somebody must ask again.
	function resume() {
		const context = audio.context;
		if (context && context.state !== 'running' && context.state !== 'closed') context.resume().catch(() => {});
	}
	for (const kind of ['pointerdown', 'pointerup', 'touchend', 'keydown', 'keyup', 'click']) {
		addEventListener(kind, (event) => { if (event.isTrusted) resume(); }, { capture: true, passive: true });
	}
	document.addEventListener('visibilitychange', () => { if (!document.hidden && wanted) resume(); });
	navigator.mediaDevices?.addEventListener('devicechange', () => {
		note(4, performance.now());
		if (wanted) resume();
	});

	function keep(context) {
		audio.context = context;
		context.addEventListener('statechange', () => {
			if (context.state === 'running') wanted = true;
			else if (wanted && !document.hidden) setTimeout(resume, 200);
			note(3, performance.now(), context.state === 'running' ? 1 : 0);
		});
		const processor = context.createScriptProcessor?.bind(context);
		if (processor) context.createScriptProcessor = (...args) => watchScript(processor(...args), context);
	}

	// Without an AudioWorklet (plain http) each block's time is told by the
	// event, and holes are not.
	function watchScript(node, context) {
		audio.mode = 'script';
		node.addEventListener('audioprocess', (event) => {
			note(1, Math.round(event.playbackTime * context.sampleRate), audio.posted, 0, 0, performance.now(), 0);
			audio.posted += event.outputBuffer.length;
		});
		return node;
	}

	function watchNode(node) {
		audio.mode = 'worklet';
		audio.node = node;
		node.port.addEventListener('message', ({ data }) => note(1, data[0], data[1], data[2], data[3], performance.now(), 1));
		const post = node.port.postMessage.bind(node.port);
		node.port.postMessage = (data, options) => {
			audio.posted += data.length / 2;
			post(data, options);
		};
		node.addEventListener('processorerror', () => { audio.failed = 'the sound processor stopped'; });
	}

	for (const name of ['AudioContext', 'webkitAudioContext']) {
		const Native = globalThis[name];
		if (!Native) continue;
		globalThis[name] = new Proxy(Native, {
			construct(target, args, newTarget) {
				// Holes matter to us and delay does not: we know when we are heard.
				const context = Reflect.construct(target, [{ ...args[0], latencyHint: 'playback' }], newTarget);
				if (!audio.context && !args[0]?.captures) keep(context);
				return context;
			},
		});
	}

	if (globalThis.AudioWorkletNode) {
		globalThis.AudioWorkletNode = new Proxy(AudioWorkletNode, {
			construct(target, args, newTarget) {
				const node = Reflect.construct(target, args, newTarget);
				if (args[1] === 'oto-worklet-processor') watchNode(node);
				return node;
			},
		});
	}
	if (globalThis.AudioWorklet) {
		const add = AudioWorklet.prototype.addModule;
		AudioWorklet.prototype.addModule = function (url, ...rest) {
			if (!String(url).startsWith('blob:')) return add.call(this, url, ...rest);
			const own = add.call(this, new URL('worklet.js', here).href, ...rest);
			own.catch((error) => { audio.failed = String(error); });
			return own;
		};
	}

	// Where the browser knows kinds of audio, ours is music: a tablet in
	// silent mode then plays it as it plays a film.
	try {
		if (navigator.audioSession) navigator.audioSession.type = 'playback';
	} catch { /* not settable here */ }
})();
