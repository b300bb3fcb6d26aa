// Reads MusicXML files with the npm package opensheetmusicdisplay (its reader
// alone, in linkedom's document) and prints the printed notes of each:
// [MIDI key, measure index, onset in the measure, duration] in quarters; small
// notes have duration 0. With --quiet it prints the times alone.
const { DOMParser, parseHTML } = require('linkedom');
const { window, document } = parseHTML('<!doctype html><html><body></body></html>');
Object.assign(global, { window, document, self: global, HTMLElement: window.HTMLElement, Node: window.Node, DOMParser });
const osmd = require('opensheetmusicdisplay');
const fs = require('fs'), path = require('path');
const rules = new osmd.EngravingRules();
const quiet = process.argv.includes('--quiet');
const result = {};
for (const file of process.argv.slice(2).filter(a => a !== '--quiet')) {
  const bytes = fs.readFileSync(file);
  const begin = process.hrtime.bigint();
  const text = bytes.toString('utf8').replace(/<!DOCTYPE[^>]*>/, '');
  const root = new DOMParser().parseFromString(text, 'text/xml').querySelector('score-partwise');
  const sheet = new osmd.MusicSheetReader([], rules).createMusicSheet(new osmd.IXmlElement(root), file);
  const ms = Number(process.hrtime.bigint() - begin) / 1e6;
  const notes = [];
  if (!quiet)
    sheet.SourceMeasures.forEach((measure, index) => {
      for (const container of measure.VerticalSourceStaffEntryContainers)
        for (const entry of container.StaffEntries.filter(Boolean))
          for (const voice of entry.VoiceEntries)
            for (const note of voice.Notes.filter(n => !n.isRest() && n.PrintObject))
              notes.push([note.halfTone + 12, index, 4 * voice.Timestamp.RealValue, voice.IsGrace ? 0 : 4 * note.Length.RealValue]);
    });
  result[path.basename(file, '.musicxml')] = { notes, ms, bytes: bytes.length };
}
console.log(JSON.stringify(result));
