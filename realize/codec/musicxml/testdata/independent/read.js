// Reads MusicXML files with the npm package opensheetmusicdisplay (its reader
// alone, in linkedom's document) and prints the printed notes of each:
// [MIDI key, onset, duration] in quarters, small notes left out.
const { DOMParser, parseHTML } = require('linkedom');
const { window, document } = parseHTML('<!doctype html><html><body></body></html>');
Object.assign(global, { window, document, self: global, HTMLElement: window.HTMLElement, Node: window.Node, DOMParser });
const osmd = require('opensheetmusicdisplay');
const fs = require('fs'), path = require('path');
const rules = new osmd.EngravingRules();
const result = {};
for (const file of process.argv.slice(2)) {
  const text = fs.readFileSync(file, 'utf8').replace(/<!DOCTYPE[^>]*>/, '');
  const begin = process.hrtime.bigint();
  const root = new DOMParser().parseFromString(text, 'text/xml').querySelector('score-partwise');
  const sheet = new osmd.MusicSheetReader([], rules).createMusicSheet(new osmd.IXmlElement(root), file);
  const ms = Number(process.hrtime.bigint() - begin) / 1e6;
  const notes = [];
  for (const measure of sheet.SourceMeasures)
    for (const container of measure.VerticalSourceStaffEntryContainers)
      for (const entry of container.StaffEntries.filter(Boolean))
        for (const voice of entry.VoiceEntries.filter(v => !v.IsGrace))
          for (const note of voice.Notes.filter(n => !n.isRest() && n.PrintObject))
            notes.push([note.halfTone + 12, 4 * (measure.AbsoluteTimestamp.RealValue + voice.Timestamp.RealValue), 4 * note.Length.RealValue]);
  result[path.basename(file, '.musicxml')] = { notes, ms };
}
console.log(JSON.stringify(result));
