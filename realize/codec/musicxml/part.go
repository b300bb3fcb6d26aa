package musicxml

import (
	"slices"
	"strconv"
	"strings"

	"agremens/realize/codec/told"
	"agremens/realize/music"
	"agremens/realize/score"
)

// part is one part while it is read. Onsets are relative to their measure
// until the parts are assembled.
type part struct {
	d  *decoder
	r  *reader
	id string

	measures []score.Measure
	chords   []chord
	clefs    []at[score.Clef]
	tempos   []at[score.Tempo]
	marks    []at[score.Mark]
	slurs    []score.Slur
	tuplets  []score.Tuplet
	staves   int
	unshown  []unshown
	metres   []at[metreChange]
	repeats  []repeatSign
	// repeating holds, for each staff, one more than the index of the repeat
	// sign that is open.
	repeating [maxStaff + 1]int

	// The state of reading.
	division music.Frac // quarters of one division; 0 before the first <divisions>
	key      music.Key
	metre    music.Metre
	shift    music.Interval // from written to sounding pitch
	hides    [maxStaff + 1]bool
	now      music.Frac // quarters from the start of the measure
	held     music.Frac // the furthest now came in this measure
	notes    int        // in this measure
	last     int        // the chord that <chord/> joins; -1 none
	lost     music.Frac // the length of the note left out just before, which <chord/> may join
	follows  bool       // the next note follows the last without backup or forward
	open     openLines
	ends     []lineEnd
	bracket  []int        // numbers of the volta that is open
	printed  []at[string] // jumps that words ask for
	straight bool         // a <sound> says that it does not go back
}

// at is something that stands in a measure, at an onset relative to it.
type at[T any] struct {
	measure int
	item    T
}

// chord is a chord while it is read.
type chord struct {
	score.Chord
	// hidden says of each note whether it is print-object="no".
	hidden []bool
	// after is the chord read just before without a step of the cursor between, -1 if none.
	after int
	// division is what the file counted the chord's length in, in quarters.
	division music.Frac
	// drop marks chords that do not reach the passage.
	drop bool
}

func (c *chord) allHidden() bool {
	for _, h := range c.hidden {
		if !h {
			return false
		}
	}
	return true
}

// where names the measure for messages.
func (p *part) where() told.Place {
	if len(p.measures) == 0 {
		return told.Place{}
	}
	return told.Place{Measure: p.measures[len(p.measures)-1].Number}
}

// in is a measure of the part.
func (p *part) in(measure string) told.Place { return told.Place{Measure: measure, Part: clip(p.id)} }

func (p *part) warn(what string, fill ...string) {
	s := p.r.spot()
	s.Part = clip(p.id)
	p.d.warnings.Add(s, what, fill...)
}

func (p *part) measure() *score.Measure { return &p.measures[len(p.measures)-1] }

func (p *part) readMeasure(e element) error {
	if len(p.measures) >= maxMeasures {
		return p.r.fail(ErrTooLarge, mendSplit, "the piece has more than {n} bars", "{n}", strconv.Itoa(maxMeasures))
	}
	p.measures = append(p.measures, score.Measure{
		Number:   clip(e.attr("number")),
		Implicit: e.attr("implicit") == "yes",
		Key:      p.key,
		Metre:    p.metre,
		Endings:  slices.Clone(p.bracket),
	})
	p.now, p.held, p.lost, p.notes, p.last, p.follows = music.Frac{}, music.Frac{}, music.Frac{}, 0, -1, false
	if err := p.r.each(p.readItem); err != nil {
		return err
	}
	m := p.measure()
	m.Length = p.held
	if m.Length.IsZero() {
		m.Length = p.metre.Bar()
	}
	p.carryKeys(m)
	return nil
}

// carryKeys moves a signature printed after the last note of a measure to
// the next one, which it governs.
func (p *part) carryKeys(m *score.Measure) {
	kept := m.KeyChanges[:0]
	for _, c := range m.KeyChanges {
		if c.Onset.Less(m.Length) {
			kept = append(kept, c)
		}
	}
	m.KeyChanges = kept
	if len(kept) == 0 {
		m.KeyChanges = nil
	}
}

func (p *part) readItem(e element) error {
	switch e.name {
	case "note":
		return p.readNote(e)
	case "backup":
		return p.readStep(-1)
	case "forward":
		return p.readStep(1)
	case "attributes":
		return p.readAttributes()
	case "direction":
		return p.readDirection(e)
	case "sound":
		return p.readSound(e)
	case "barline":
		return p.readBarline(e)
	case "figured-bass":
		return p.readFiguredBass()
	case "harmony":
		return p.readHarmony(e)
	case "print":
		if e.attr("new-system") == "yes" || e.attr("new-page") == "yes" {
			p.measure().NewSystem = true
		}
	}
	return nil
}

// readStep reads <backup> (sign -1) or <forward> (sign 1).
func (p *part) readStep(sign int64) error {
	p.last, p.follows = -1, false
	p.lost = music.Frac{}
	text, found := "", false
	err := p.r.each(func(e element) error {
		if e.name != "duration" {
			return nil
		}
		s, err := p.r.text()
		text, found = s, true
		return err
	})
	if err != nil {
		return err
	}
	if !found {
		p.warn("a step between voices has no length and was ignored")
		return nil
	}
	if back, negative := strings.CutPrefix(text, "-"); negative {
		text, sign = back, -sign
		p.warn("a step between voices has a negative length; it was taken in the other direction")
	}
	d, ok := p.quarters(text)
	switch {
	case ok:
		return p.step(d.Mul(music.Int(sign)))
	case sign < 0:
		p.warn("a step back between voices has no usable length; the voice begins with its bar")
		return p.step(p.now.Neg())
	}
	p.warn("a step between voices has no usable length and was passed over")
	return nil
}

// step moves the cursor.
func (p *part) step(d music.Frac) error {
	p.now = p.now.Add(d)
	if p.now.Sign() < 0 {
		p.warn("a voice goes back beyond the start of its bar; it was set to the start")
		p.now = music.Frac{}
	}
	if music.Int(maxMeasure).Less(p.now) {
		return p.r.fail(ErrTooLarge, mendExport, "this bar is longer than {n} quarter notes", "{n}", strconv.Itoa(maxMeasure))
	}
	p.held = p.held.Max(p.now)
	return nil
}
