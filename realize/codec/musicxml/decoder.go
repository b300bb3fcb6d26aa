package musicxml

import (
	"bytes"
	"strconv"

	"agremens/realize/codec/told"
	"agremens/realize/music"
	"agremens/realize/score"
)

// decoder holds what one call of Decode needs.
type decoder struct {
	watch    Watch
	done     float64 // share of the work
	chunk    int     // chords since the last breath
	warnings told.Warnings
	left     told.Tally
	stats    []partStats

	title  heading
	parts  map[string]*part
	ids    map[score.ID]bool
	common music.Common
	broken *Error // the first damage to the markup
	notes  int
	marks  int
}

// breathe reports how far the work is; steps that took no count of it call
// it between them.
func (d *decoder) breathe() {
	if d.watch != nil {
		d.watch(d.done)
	}
}

// through returns what a reader of text reports to, on the way from one share
// of the work to another.
func (d *decoder) through(text []byte, from, to float64) func(at int) {
	if d.watch == nil {
		return nil
	}
	return func(at int) {
		d.done = from + (to-from)*float64(at)/float64(len(text))
		d.watch(d.done)
	}
}

// Shares of the work at which its parts begin, as measured.
const (
	shareRead     = 0.2 // where there are several parts to choose from, else 0
	shareAssemble = 0.8
)

// open turns the bytes of a file into UTF-8 XML.
func (d *decoder) open(data []byte) ([]byte, error) {
	if len(data) == 0 {
		return nil, fileError(ErrNotMusicXML, "choose another file, or download it again", "this file is empty")
	}
	if len(data) > maxFile {
		return nil, fileError(ErrTooLarge, mendSplit, "this file is larger than {n} MB", "{n}", strconv.Itoa(maxFile>>20))
	}
	data, err := d.unpack(data)
	if err != nil {
		return nil, err
	}
	if bytes.HasPrefix(data, []byte("%PDF")) {
		return nil, fileError(ErrNotMusicXML, "a PDF contains pictures of notes: look for the same piece as MusicXML", "this is a PDF")
	}
	if bytes.HasPrefix(data, []byte("MThd")) {
		return nil, fileError(ErrNotMusicXML, "look for the same piece as MusicXML", "this is a MIDI file, which contains sounds but no ornament signs")
	}
	text := d.toUTF8(data)
	if i := bytes.IndexFunc(text, func(r rune) bool { return r > ' ' }); i < 0 || text[i] != '<' {
		return nil, fileError(ErrNotMusicXML, "choose a .musicxml, .xml or .mxl file", "this is not MusicXML")
	}
	return text, nil
}

// read goes through the score once and reads the chosen parts.
func (d *decoder) read(text []byte, chosen []string) error {
	from := 0.0
	if len(d.stats) > 1 {
		from = shareRead
	}
	r := newReader(text, d.through(text, from, shareAssemble))
	if _, err := r.root(); err != nil {
		return err
	}
	r.tell = d.warnings.Add
	defer func() { d.broken = r.first }()
	d.parts = map[string]*part{}
	d.ids = map[score.ID]bool{}
	for _, id := range chosen {
		d.parts[id] = &part{d: d, r: r, id: id}
	}
	return r.each(func(e element) error {
		switch e.name {
		case "part": // of a partwise score
			p := d.parts[e.attr("id")]
			if p == nil {
				return nil
			}
			r.where = p.where
			defer func() { r.where = nil }()
			return r.each(func(e element) error {
				if e.name != "measure" {
					return nil
				}
				return p.readMeasure(e)
			})
		case "measure": // of a timewise score
			measure := e
			return r.each(func(e element) error {
				p := d.parts[e.attr("id")]
				if e.name != "part" || p == nil {
					return nil
				}
				r.where = p.where
				defer func() { r.where = nil }()
				return p.readMeasure(measure)
			})
		}
		return d.title.read(r, e)
	})
}
