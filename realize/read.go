package realize

import (
	"cmp"
	"strconv"

	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
)

// reader holds what is worked out once for a passage.
type reader struct {
	p     *score.Passage
	l     *links
	taste Taste
	trad  *tradition
	slurs [][]int // by measure: indexes of the slurs that touch it
	keys  *keyMap
	tempo perf.TempoMap
	rate  float64
	// tempoAssumed: nobody gave the tempo, so nothing is too fast for it.
	tempoAssumed bool
}

// Read finds every ornament of a passage and what may be played for it. The
// passage is not changed. Every sign and small note on a note yields an
// ornament with at least two choices.
func Read(p *score.Passage, t Taste) *Reading { return ReadYielding(p, t, nil) }

// ReadYielding is [Read] that calls yield after every ornament, so that a
// single-threaded caller can do other things; yield may be nil.
func ReadYielding(p *score.Passage, t Taste, yield func()) *Reading {
	breathe := func() {
		if yield != nil {
			yield()
		}
	}
	out := &Reading{Passage: p}
	r := newReader(p, t, out)
	breathe()

	asked := questions{words: t.Words}
	sites := gather(p, r.l)
	breathe()
	out.Ornaments = make([]Ornament, 0, len(sites))
	for i := range sites {
		pl := r.look(&sites[i])
		o := r.ornament(pl)
		if _, found, sound := t.own(o.Note); found && !sound {
			out.Warnings = append(out.Warnings, r.say("bar {bar}: a realization of your own cannot be played and was left out", "{bar}", p.Measures[o.Measure].Number))
		}
		if name := pl.unknownSign(); name != "" {
			out.Warnings = append(out.Warnings, r.say("bar {bar}: the ornament \"{sign}\" is unknown here; the realization is a guess", "{bar}", p.Measures[o.Measure].Number, "{sign}", name))
		}
		o.ID = "o" + strconv.Itoa(i+1)
		out.Ornaments = append(out.Ornaments, o)
		asked.about(pl, &o)
		breathe()
	}
	out.Questions = append(out.Questions, asked.list(MostQuestions-len(out.Questions))...)
	return out
}

// newReader works out what holds for the whole passage, and tells it to the
// reading.
func newReader(p *score.Passage, t Taste, out *Reading) *reader {
	t = t.readable()
	r := &reader{p: p, l: link(p), taste: t, rate: t.Rate}
	if r.rate == 0 {
		r.rate = StudentRate
	}
	r.trad = chooseTradition(p, &t, out)
	out.Tradition = r.trad.key
	r.tempo = goalTempo(p, t, out)
	r.tempoAssumed = out.TempoAssumed
	out.Tempo = r.tempo.At(start(p))
	r.indexSlurs()
	return r
}

// Choose returns a copy of the reading with another choice taken for one
// ornament. Unknown ids and choices out of range change nothing.
func (r *Reading) Choose(ornamentID string, choice int) *Reading {
	q := *r
	q.Ornaments = append([]Ornament(nil), r.Ornaments...)
	for i := range q.Ornaments {
		o := &q.Ornaments[i]
		if o.ID == ornamentID && choice >= 0 && choice < len(o.Choices) {
			o.Chosen = choice
		}
	}
	return &q
}

func start(p *score.Passage) music.Frac {
	if len(p.Measures) == 0 {
		return music.Frac{}
	}
	return p.Measures[0].Onset
}

func (r *reader) indexSlurs() {
	p := r.p
	r.slurs = make([][]int, len(p.Measures))
	for k := range p.Slurs {
		s := &p.Slurs[k]
		for m := p.Chords[s.From].Measure; m <= p.Chords[s.To].Measure && m < len(r.slurs); m++ {
			r.slurs[m] = append(r.slurs[m], k)
		}
	}
}

// sounding calls f for every written note of another voice or chord that
// sounds between two onsets.
func (r *reader) sounding(from, to music.Frac, f func(*score.Chord, *score.Note), pl *place) {
	p := r.p
	if len(p.Measures) == 0 {
		return
	}
	m := &p.Measures[p.MeasureAt(from)]
	for i := p.FirstAt(m.Onset); i < len(p.Chords) && p.Chords[i].Onset.Less(to); i++ {
		c := &p.Chords[i]
		if c.Grace != nil || c.End().Cmp(from) <= 0 {
			continue
		}
		if pl != nil && c == pl.chord {
			continue
		}
		if pl != nil && c.Voice == pl.chord.Voice {
			continue
		}
		for j := range c.Notes {
			f(c, &c.Notes[j])
		}
	}
}

// ornament turns a place into its reading.
func (r *reader) ornament(pl *place) Ornament {
	o := Ornament{
		Ref: pl.ref, Note: pl.note.ID, Staff: pl.chord.Staff, Voice: pl.chord.Voice,
		Measure: pl.chord.Measure, Onset: pl.chord.Onset,
		Principal: pl.pitch, Notated: pl.room, Key: pl.key, Upper: pl.upper, Lower: pl.lower, Signs: signNames(pl), Figure: figureKeys[pl.figure],
	}
	o.Graces = append(append(o.Graces, pl.prefix...), pl.suffix...)
	o.Covers = append(o.Covers, pl.note.ID)
	for _, j := range pl.also {
		o.Covers = append(o.Covers, pl.chord.Notes[j].ID)
	}
	o.Choices = r.choices(pl)
	if pl.halfSlurred {
		o.Choices = pl.orSlurred(o.Choices)
	}
	if own, _, sound := r.taste.own(o.Note); sound {
		o.Choices = append([]Choice{pl.ownChoice(own)}, o.Choices...)
	}
	for i := range o.Choices {
		o.Choices[i].Naming, o.Choices[i].Words = r.taste.Naming, r.taste.Words
	}
	r.taste.decide(&o)
	return o
}

// unknownSign names the sign of a place whose figure nothing tells, "" where
// all are known.
func (pl *place) unknownSign() string {
	if pl.figure != unknownFigure {
		return ""
	}
	for i := range pl.signs {
		if s := &pl.signs[i]; signFigure(s) == unknownFigure {
			return cmp.Or(s.Glyph, s.Text, string(s.Kind))
		}
	}
	return ""
}

// signNames lists the MusicXML names of the signs, "grace" and "slash" for
// small notes, "arpeggiate" for a roll.
func signNames(pl *place) []string {
	var names []string
	for i := range pl.signs {
		names = append(names, string(pl.signs[i].Kind))
	}
	if len(pl.prefix)+len(pl.suffix) > 0 {
		names = append(names, "grace")
		slash := false
		for _, list := range [][]int{pl.prefix, pl.suffix} {
			for _, g := range list {
				slash = slash || pl.r.p.Chords[g].Grace.Slash
			}
		}
		if slash {
			names = append(names, "slash")
		}
	}
	if pl.rolled != "" {
		names = append(names, "arpeggiate")
	}
	return names
}
