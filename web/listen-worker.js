// The worker that hears: the program cmd/agremens-ear, which has a memory of
// its own and leaves the page's thread alone. From the page come
// {rate, task, from} to begin a round and {finish} to end it, {rate, task, file}
// for one that was recorded, as samples or as the bytes of a MIDI file, {rate, place, from}
// to begin a take of an ornament and {written: [place, takes]} to end it and
// have all takes written; to it go {heard}, the notes or keys just heard,
// {report}, {take} (its strikes and what is written), or {failed}.
'use strict';
importScripts('wasm_exec.js');

const ready = new Promise((resolve) => { globalThis.hears = resolve; });
const go = new Go();
WebAssembly.instantiateStreaming(fetch('listen-ear.wasm'), go.importObject)
	.then(({ instance }) => { go.run(instance); })
	.catch((error) => postMessage({ failed: String(error) }));
ready.then(() => postMessage({ ready: true }));

let from = null;

onmessage = async ({ data }) => {
	await ready;
	if (data.file) {
		ear.expect(data.rate, data.task);
		if (data.file instanceof Uint8Array) ear.midi(data.file);
		else {
			const { file, rate } = data;
			for (let i = 0; i < file.length; i += rate) postMessage({ heard: ear.feed(file.subarray(i, i + rate)) ?? [] });
		}
		postMessage({ report: ear.finish() });
	} else if (data.task || data.place) {
		if (data.task) ear.expect(data.rate, data.task);
		else ear.take(data.rate, data.place);
		from = data.from;
		from.onmessage = ({ data: [samples, sent] }) => {
			const heard = ear.feed(samples, sent);
			if (heard?.length) postMessage({ heard });
		};
	}
	if (data.written) {
		if (from) from.onmessage = null;
		postMessage({ take: ear.taken(...data.written) });
	}
	if (data.finish) {
		from.onmessage = null;
		postMessage({ report: ear.finish() });
	}
};
