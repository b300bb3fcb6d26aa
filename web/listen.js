// Opens the microphone for one round and closes it again. It is loaded when
// listening is first asked for. Nothing of the sound is kept or sent: it goes
// from the audio thread to a worker of this page and no further.
'use strict';
(() => {
	const WANTED = { echoCancellation: false, noiseSuppression: false, autoGainControl: false };
	const PATIENCE = 20_000; // ms for the browser's question to be answered
	let now = null; // the round: stream, context, worker, told

	// open asks for the microphone and loads what hears, and resolves to
	// {altered}: whether the device changes the sound although it was asked not
	// to. beside says that the page sounds meanwhile: then the microphone is
	// heard on the sound's own clock. It rejects with the name of a trouble. told(kind, numbers, more) is
	// called with 'heard', 'report', 'take', 'failed' and 'taken'.
	async function open(told, beside) {
		drop();
		if (!navigator.mediaDevices?.getUserMedia || !globalThis.AudioWorkletNode) throw 'unable';
		const round = { told };
		now = round;
		const gone = () => { if (now !== round) { close(round); throw 'dropped'; } };
		try {
			round.stream = await answered(navigator.mediaDevices.getUserMedia({ audio: { ...WANTED, channelCount: 1 } }));
		} catch (error) {
			if (error === 'unanswered') throw error;
			throw ['NotAllowedError', 'SecurityError'].includes(error.name) ? 'refused' : 'absent';
		}
		gone();
		const [track] = round.stream.getAudioTracks();
		track.addEventListener('ended', () => { if (now === round) told('taken'); });
		const settings = track.getSettings();
		// A tablet whose page only plays lets no microphone be heard.
		try { if (navigator.audioSession) navigator.audioSession.type = 'play-and-record'; } catch { /* not settable here */ }
		try {
			const { context, node } = agremens.audio;
			round.beside = beside && node && context.state === 'running' ? node : null;
			round.context = round.beside ? context : new AudioContext({ captures: true });
			await round.context.audioWorklet.addModule('listen-capture.js');
			await round.context.resume();
			gone();
			await load(round);
		} catch (error) {
			close(round);
			throw error === 'dropped' ? error : 'unheard';
		}
		gone();
		return { altered: Object.keys(WANTED).some((name) => settings[name] === true) };
	}

	// answered waits for the microphone. A browser whose question is passed over,
	// or whose sound system stands, may never answer; a microphone that comes
	// after that is switched off again.
	async function answered(asked) {
		let late = false, timer;
		asked.then((stream) => { if (late) for (const track of stream.getTracks()) track.stop(); }, () => {});
		const waited = new Promise((_, reject) => {
			timer = setTimeout(() => { late = true; reject('unanswered'); }, PATIENCE);
		});
		try { return await Promise.race([asked, waited]); } finally { clearTimeout(timer); }
	}

	// load starts the worker that hears.
	async function load(round) {
		const { told } = round;
		round.worker = new Worker('listen-worker.js');
		await new Promise((resolve, reject) => {
			round.worker.onerror = reject;
			round.worker.onmessage = ({ data }) => (data.ready ? resolve() : reject(data.failed));
		});
		round.worker.onerror = () => told('failed');
		round.worker.onmessage = ({ data }) => {
			if (data.heard) told('heard', data.heard);
			if (data.report || data.take) {
				round.worker.terminate();
				round.worker = null;
			}
			if (data.report) told('report', data.report);
			if (data.take) told('take', ...data.take);
			if (data.failed) told('failed');
		};
	}

	// hear takes the bytes of a recording or of a MIDI file in place of the
	// microphone. It rejects with the name of a trouble.
	async function hear(task, bytes, told) {
		drop();
		const round = { told };
		now = round;
		const rate = 48000;
		let file = bytes;
		if (String.fromCharCode(...bytes.subarray(0, 4)) !== 'MThd') {
			try {
				const sound = await new OfflineAudioContext(1, 1, rate).decodeAudioData(bytes.slice().buffer);
				file = sound.getChannelData(0).slice();
				for (let c = 1; c < sound.numberOfChannels; c++) sound.getChannelData(c).forEach((x, i) => { file[i] += x; });
				if (sound.numberOfChannels > 1) file = file.map((x) => x / sound.numberOfChannels);
			} catch {
				throw 'unreadable';
			}
		}
		try { await load(round); } catch { throw 'unheard'; }
		if (now === round) round.worker.postMessage({ rate, task, file });
	}

	// begin lets it hear {task} or {place}; finish asks for the report.
	function begin(what) {
		const { context, stream, worker, beside } = now;
		const node = new AudioWorkletNode(context, 'agremens-capture', { numberOfInputs: 2, numberOfOutputs: 0, channelCount: 1, channelCountMode: 'explicit' });
		const { port1, port2 } = new MessageChannel();
		node.port.postMessage(null, [port1]);
		worker.postMessage({ rate: context.sampleRate, ...what, from: port2 }, [port2]);
		now.source = context.createMediaStreamSource(stream);
		now.source.connect(node);
		beside?.connect(node, 0, 1);
		now.capture = node;
	}

	function finish() {
		silence(now);
		now?.worker?.postMessage({ finish: true });
	}

	// write ends the take that is heard, if there is one, and has it written with
	// those before it; it needs no microphone.
	async function write(place, takes, told) {
		if (!now?.worker) {
			now = { told };
			try { await load(now); } catch { told('failed'); return; }
		}
		silence(now);
		now?.worker.postMessage({ written: [place, takes] });
	}

	// silence switches the microphone off: the browser's own sign goes out.
	function silence(round) {
		for (const track of round?.stream?.getTracks() ?? []) track.stop();
		round?.source?.disconnect();
		if (round?.beside && round.capture) round.beside.disconnect(round.capture);
		if (!round?.beside) round?.context?.close().catch(() => {});
		if (round) round.stream = round.context = round.source = round.capture = null;
		try { if (navigator.audioSession) navigator.audioSession.type = 'playback'; } catch { /* not settable here */ }
	}

	function close(round) {
		silence(round);
		round?.worker?.terminate();
	}

	function drop() {
		if (now) close(now);
		now = null;
	}

	agremens.listen = { open, hear, begin, finish, write, drop };
})();
