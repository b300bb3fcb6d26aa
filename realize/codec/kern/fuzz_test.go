package kern_test

import (
	"testing"

	"agremens/realize/codec/kern"
	"agremens/realize/codec/musicxml"
)

// Decode neither panics nor lies: what it returns passes Check and can be
// written as MusicXML and read again with every note, and an error has words.
func FuzzDecode(f *testing.F) {
	for _, file := range basics(f) {
		f.Add(file.Data, "", false)
	}
	f.Add(basics(f)[0].Data, "P1", true)
	f.Fuzz(func(t *testing.T, data []byte, part string, asPrinted bool) {
		r, err := kern.Decode(data, kern.Options{Part: part, AsPrinted: asPrinted})
		if err != nil {
			if r != nil || err.Error() == "" {
				t.Fatalf("an error without words, or with a score: %v", err)
			}
			return
		}
		p := r.Passage
		if err := p.Check(); err != nil {
			t.Fatal(err)
		}
		if len(p.Chords) > 2000 || len(p.Measures) > 200 {
			return
		}
		text, err := musicxml.Encode(p)
		if err != nil {
			return // more than the other format can say, in words
		}
		again, err := musicxml.Decode(text, nil)
		notes, kept := 0, 0
		for i := range p.Chords {
			notes += len(p.Chords[i].Notes)
		}
		if err != nil {
			if notes > 0 {
				t.Fatalf("from %q: %v", data, err)
			}
			return
		}
		for i := range again.Passage.Chords {
			kept += len(again.Passage.Chords[i].Notes)
		}
		if kept != notes {
			t.Fatalf("from %q: %d notes of %d came back", data, kept, notes)
		}
	})
}
