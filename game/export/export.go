// Package export writes a reading in formats that leave the program: notation,
// sound and pictures, whole or some measures of it. It is pure; the command
// line and the page call the same functions.
package export

import (
	"fmt"
	"strings"
	"unicode"

	"agremens/game/engrave"
	"agremens/game/round"
	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/codec/musicxml"
	"agremens/realize/codec/smf"
	"agremens/realize/perf"
	"agremens/realize/score"
	"agremens/realize/words"
	"agremens/synth"
	"agremens/synth/tuning"
)

// Format is one way out.
type Format struct {
	// Key is the word for it in commands and menus.
	Key string
	// Name says in words what leaves.
	Name string
	// Ending is that of the file, with its dot.
	Ending, MIME string
}

// Formats lists the formats in the order of a menu, with their English names.
//
//words:texts Name
func Formats() []Format {
	return []Format{
		{Key: "musicxml-signs", Name: "MusicXML, with the signs", Ending: ".musicxml", MIME: "application/vnd.recordare.musicxml+xml"},
		{Key: "musicxml", Name: "MusicXML, ornaments written out", Ending: ".musicxml", MIME: "application/vnd.recordare.musicxml+xml"},
		{Key: "midi", Name: "MIDI", Ending: ".mid", MIME: "audio/midi"},
		{Key: "wav", Name: "Sound (WAV)", Ending: ".wav", MIME: "audio/wav"},
		{Key: "svg", Name: "Picture (SVG)", Ending: ".svg", MIME: "image/svg+xml"},
		{Key: "abc", Name: "ABC text", Ending: ".abc", MIME: "text/vnd.abc"},
	}
}

// Options say what of a reading leaves and how it sounds.
type Options struct {
	// From and To are measures, half-open; To 0 means to the end.
	From, To int
	// Percent of the goal tempo, for midi and wav; 0 is 100.
	Percent float64
	// Plain leaves the ornaments out of midi and wav.
	Plain bool
	// Shaped gives ornaments the inner timing of pianists in midi and wav.
	Shaped bool
	// Hands sound in wav, with the Beat clicked or not; no hand is both.
	Hands round.Hands
	Beat  bool
	// Road says which repeats and jumps midi and wav follow. Without any they
	// sound every measure as written, or Along the way that is left: of several
	// endings the last.
	Road  score.RoadOptions
	Along bool
	// Instrument, Tuning and Pitch (Hz of a') are wav's; their zero values are
	// a harpsichord, equal temperament and 440.
	Instrument synth.Instrument
	Tuning     string
	Pitch      float64
	// Width of svg in staff spaces; 0 is a page of 110.
	Width float64
	// Played shows the line as played in svg.
	Played bool
}

// Errors of [Write].
var (
	ErrFormat   = words.Errorf(nil, "there is no such format")
	ErrMeasures = words.Errorf(nil, "there are no such bars")
	ErrTempo    = words.Errorf(nil, "the tempo must lie between 5 and 400 per cent of the goal")
	ErrTooLong  = words.Errorf(nil, "this would sound for more than an hour: choose fewer bars")
	ErrSilent   = words.Errorf(nil, "these bars have no notes for that hand: choose both hands or other bars")
	ErrSound    = words.Errorf(nil, "there is no such instrument, temperament or pitch")
)

const (
	pageWidth = 110
	// slowest and fastest are per cent of the goal tempo.
	slowest, fastest = 5, 400
)

// Write returns the bytes of a format. The error is one of this package's, or
// of the codec.
func Write(format string, r *realize.Reading, o Options) ([]byte, error) {
	o, err := o.check(r.Passage)
	if err != nil {
		return nil, err
	}
	switch format {
	case "musicxml-signs":
		return musicxml.Encode(r.Passage.Cut(o.From, o.To))
	case "musicxml":
		return musicxml.EncodeRealized(r.Cut(o.From, o.To))
	case "abc":
		return []byte(abc.Encode(r.Passage.Cut(o.From, o.To))), nil
	case "svg":
		layout := engrave.Page(r.Passage, r, o.Width, engrave.Options{From: o.From, To: o.To, Played: o.Played, Title: true})
		return engrave.SVG(layout, engrave.SVGOptions{Paper: "white", Title: r.Passage.Title}), nil
	case "midi":
		return smf.Encode(Performance(r, o), r.Passage.Title), nil
	case "wav":
		return wholeWAV(r, o)
	}
	return nil, fmt.Errorf("%q: %w", format, ErrFormat)
}

// check fills in what is left open.
func (o Options) check(p *score.Passage) (Options, error) {
	if o.To == 0 {
		o.To = len(p.Measures)
	}
	if o.From < 0 || o.From >= o.To || o.To > len(p.Measures) {
		return o, ErrMeasures
	}
	if o.Percent == 0 {
		o.Percent = 100
	}
	if !(o.Percent >= slowest && o.Percent <= fastest) {
		return o, ErrTempo
	}
	if o.Width == 0 {
		o.Width = pageWidth
	}
	if o.Pitch == 0 {
		o.Pitch = 440
	}
	if o.Tuning == "" {
		o.Tuning = "equal"
	}
	if o.Hands == round.NoHand {
		o.Hands = round.BothHands
	}
	if o.Instrument == "" {
		o.Instrument = "harpsichord"
	}
	return o, nil
}

// Performance returns what midi and wav sound: the measures asked for, from
// onset 0, on the road asked for. From and To must be set.
func Performance(r *realize.Reading, o Options) *perf.Performance {
	p := r.Passage
	road := realize.Straight(o.From, o.To)
	if o.Along || o.Road != (score.RoadOptions{}) {
		road = p.RoadIn(o.From, o.To, o.Road)
	}
	played := realize.PerformAlong(r, realize.PerformOptions{Plain: o.Plain, Shaped: o.Shaped}, road)
	if o.Percent != 0 && o.Percent != 100 {
		played.Tempo = played.Tempo.Scaled(o.Percent / 100)
	}
	return played
}

// FileName makes a name for a file from the title and the measures: letters,
// digits and hyphens, and the ending of the format.
func FileName(p *score.Passage, format string, o Options) string {
	var b strings.Builder
	gap := false
	for _, r := range p.Title {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			gap = b.Len() > 0
			continue
		}
		if b.Len() > 60 {
			break
		}
		if gap {
			b.WriteByte('-')
			gap = false
		}
		b.WriteRune(unicode.ToLower(r))
	}
	if b.Len() == 0 {
		b.WriteString("passage")
	}
	if to := o.To; o.From >= 0 && to > o.From && to <= len(p.Measures) && (o.From > 0 || to < len(p.Measures)) {
		b.WriteString("-bars-" + p.Measures[o.From].Number + "-" + p.Measures[to-1].Number)
	}
	if format == "musicxml" {
		b.WriteString("-as-played")
	}
	for _, f := range Formats() {
		if f.Key == format {
			b.WriteString(f.Ending)
		}
	}
	return b.String()
}

// sequence lays a performance out in frames, what the hands play of it.
func (o Options) sequence(p *perf.Performance) synth.Sequence {
	// A small note may begin before the first beat.
	lead := 0.0
	for _, n := range p.Notes {
		lead = max(lead, -p.Tempo.Seconds(n.Onset))
	}
	times := clock{tempo: p.Tempo, lead: lead}
	seq := synth.Sequence{Length: times.frame(p.End)}
	for _, n := range p.Notes {
		if !o.Hands.Has(n.Hand) {
			continue
		}
		seq.Notes = append(seq.Notes, synth.Note{Start: times.frame(n.Onset), End: times.frame(n.End()), Key: n.Pitch.MIDI(), Strength: n.Strength})
		seq.Length = max(seq.Length, times.frame(n.End()))
	}
	for _, b := range p.Beats {
		if !o.Beat {
			break
		}
		kind := synth.Beat
		if b.Strong {
			kind = synth.Strong
		}
		seq.Clicks = append(seq.Clicks, synth.Click{At: times.frame(b.Onset), Kind: kind})
	}
	return seq
}

// temperament finds the tuning of wav.
func (o Options) temperament() (tuning.Tuning, error) {
	t, ok := tuning.Named(o.Tuning)
	if !ok || o.Pitch < 300 || o.Pitch > 600 {
		return t, ErrSound
	}
	return t.At(o.Pitch), nil
}
