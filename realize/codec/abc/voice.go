package abc

import (
	"slices"
	"strconv"
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
)

// voice is one V: of the tune while it is read, bar by bar.
type voice struct {
	id       string
	implied  bool // no V: names it
	clef     *score.Clef
	octave   int
	key      music.Key
	extra    map[music.Step]int8
	metre    music.Metre
	unit     music.Frac // quarters
	keyAfter music.Key  // in force after a bar with overlays
	bars     []*bar
	bar      *bar // the open one; nil between bars
	left     barline
	// waiting holds marks that stand before the next bar's first note.
	waiting []item
	newLine bool
	strand  *strand
	strands []*strand // the voice itself and its overlays (&)
}

// bar is one bar of one voice.
type bar struct {
	at         place
	key        music.Key
	metre      music.Metre
	keyChanges []score.KeyChange // onsets relative to the bar
	left       barline
	right      barline
	jumps      []string
	newLine    bool
	items      [][]item
	length     music.Frac // of the longest strand, once closed
	chords     []*draft   // onsets relative to the bar, once closed
	marks      []placedMark
}

// strand is what one overlay of a voice remembers from note to note.
type strand struct {
	accidentals map[int]int  // by staff position, for this bar
	steps       map[int]int  // by letter, for this bar
	ties        []tie        // waiting for their second note
	tuplet      *tupletGroup // being filled
	slurs       []*slur      // open
	opening     []*slur      // open, waiting for their first note
	newest      *draft       // the chord that a slur ends on
	last        *draft       // the chord that a broken rhythm shortens
	broken      int          // dots that wait for the second note, negative for "<"
	space       bool         // a blank stood before the next note
	wedges      []*item
}

func newStrand() *strand {
	s := &strand{}
	s.clearBar()
	return s
}

func (s *strand) clearBar() {
	s.accidentals, s.steps = map[int]int{}, map[int]int{}
	s.space = true
}

// item is a chord, rest or mark within a bar.
type item struct {
	chord *draft
	mark  *score.Mark
	tempo *score.Tempo
	key   *music.Key
	clef  *score.Clef
	// ends is the start of a wedge that closes here.
	ends *item
	at   music.Frac // filled when a wedge's bar is closed
	bar  *bar
}

// draft is a chord on its way into the passage.
type draft struct {
	score.Chord
	at     place
	length music.Frac // quarters as written, before the tuplet's ratio
	space  bool       // a blank stood before it: no beam to the chord before
	group  int        // number of its grace group, from 1
	strand int
	tuplet *tupletGroup
	// pieces are the tied values it was split into; nil for one value.
	pieces []*draft
	bar    *bar
}

// last returns the last of the tied pieces.
func (d *draft) last() *draft {
	if len(d.pieces) > 0 {
		return d.pieces[len(d.pieces)-1]
	}
	return d
}

type tie struct {
	from  *draft
	pitch music.Pitch
	at    place
}

type slur struct {
	at       place
	from, to *draft
}

type tupletGroup struct {
	at             place
	actual, normal int
	left           int
	from, to       *draft
}

type placedMark struct {
	at   music.Frac
	item *item
}

// barline is what one bar line says to the bars at its sides.
type barline struct {
	style       string // right side, MusicXML words
	repeatEnd   bool
	repeatStart bool
	times       int
	endings     []int
	closes      bool // ends a volta bracket
}

// open returns the bar that the next item belongs to.
func (v *voice) open(at place) *bar {
	if v.bar == nil {
		v.bar = &bar{at: at, key: v.key, metre: v.metre, left: v.left, newLine: v.newLine}
		v.left, v.newLine = barline{}, false
		v.bar.items = make([][]item, 1)
		v.bar.items[0] = append(v.bar.items[0], v.waiting...)
		v.waiting = nil
	}
	return v.bar
}

// begun reports whether a note or rest stands in the open bar already.
func (v *voice) begun() bool {
	return v.bar != nil && slices.ContainsFunc(v.bar.items, func(items []item) bool {
		return slices.ContainsFunc(items, func(it item) bool { return it.chord != nil })
	})
}

// strandIndex returns the number of the current overlay.
func (v *voice) strandIndex() int {
	for i, s := range v.strands {
		if s == v.strand {
			return i
		}
	}
	return 0
}

// add puts an item at the current place.
func (v *voice) add(it item, at place) {
	b := v.open(at)
	i := v.strandIndex()
	for len(b.items) <= i {
		b.items = append(b.items, nil)
	}
	b.items[i] = append(b.items[i], it)
}

// annotate puts a mark before the next item, without opening a bar for it.
func (v *voice) annotate(it item) {
	if v.bar == nil {
		v.waiting = append(v.waiting, it)
		return
	}
	v.add(it, v.bar.at)
}

// eachVoice does what a field asks for: to its own voice, or to all of them.
// In the header there are none yet that have anything of their own.
func (p *parser) eachVoice(do func(*voice)) {
	switch {
	case !p.body:
	case p.common():
		for _, v := range p.voices {
			do(v)
		}
	default:
		do(p.voice)
	}
}

// dress gives a voice what the header set.
func (p *parser) dress(v *voice) {
	v.unit, v.metre, v.extra = p.unit, p.metre, p.key.extra
	if p.key.key != nil {
		v.key = *p.key.key
	}
	if v.clef == nil {
		v.clef = p.key.clef
	}
	if p.key.octave != nil && v.octave == 0 {
		v.octave = *p.key.octave
	}
}

// voiceNamed returns a voice, made if it is new.
func (p *parser) voiceNamed(id string) *voice {
	if v := p.known(id); v != nil {
		return v
	}
	v := &voice{id: id, strands: []*strand{newStrand()}}
	v.strand = v.strands[0]
	if p.body {
		p.dress(v)
	}
	p.voices = append(p.voices, v)
	return v
}

func (p *parser) voiceField(text string, at place) error {
	words := fieldWords(text)
	if len(words) == 0 {
		return at.fail("V: does not name a voice", "write V:1")
	}
	if len(p.voices) >= maxVoices && p.known(words[0]) == nil {
		return at.fail("there are more than {n} voices", "keep only those of the keyboard", "{n}", strconv.Itoa(maxVoices))
	}
	if p.pending.at != (place{}) {
		p.dropPending()
	}
	v := p.voiceNamed(words[0])
	f, err := p.parseKey(strings.Join(words[1:], " "), at, true)
	if err != nil {
		return err
	}
	if f.clef != nil {
		p.setClef(v, f.clef)
	}
	if f.octave != nil {
		v.octave = *f.octave
	}
	if p.body {
		p.voice, p.named = v, true
	}
	return nil
}

// setClef makes a clef the voice's first, or a change within it.
func (p *parser) setClef(v *voice, clef *score.Clef) {
	if len(v.bars) == 0 && v.bar == nil {
		v.clef = clef
		return
	}
	v.annotate(item{clef: clef})
}
