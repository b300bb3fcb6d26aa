package round

import (
	"errors"
	"math"

	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
	"agremens/realize/tap"
	"agremens/synth"
)

// Plan is a round laid out in sample frames from its first sound on.
type Plan struct {
	Settings Settings
	Rate     int // frames a second
	Sequence synth.Sequence
	// Sounding is what the plan was laid out from.
	Sounding *perf.Performance
	// Wants are the onsets to tap, in order. At is milliseconds from frame 0;
	// Frames holds the same as frames.
	Wants  []tap.Want
	Frames []int64
	// Also holds the further keys of a chord, of which Wants holds one.
	Also map[Struck][]int
	// Lead is the length of the count-in or of the silence before the first
	// measure, in frames.
	Lead int64
	// Alone says that there is no hand, sounding or tapped, beside the tapped one.
	Alone bool
	// BeatMS is the length of the felt beat at the start, in milliseconds.
	BeatMS float64

	first, until music.Frac // the chosen measures, in played time
	from         float64    // seconds of the first measure's start at the round's tempo
	tempo        perf.TempoMap
	way          perf.Way
	beats        []music.Frac // felt ones, in played time
	laid         laid
	tapped       []synth.Note // taps that sound
}

// Errors of [Build].
var (
	ErrNoMeasures = errors.New("round: no measures chosen")
	ErrNothing    = errors.New("round: the chosen measures hold nothing to tap for this hand")
)

// Build lays out a round on the measures that s chooses. Rate is the sample
// rate in frames a second.
//
// names gives each ornament's name in the terms of the trade by its id.
// Where [Settings.Road] gives a way, sounding is what sounds along it.
func Build(p *score.Passage, sounding *perf.Performance, names map[string]string, s Settings, rate int) (*Plan, error) {
	s.From, s.To = max(0, s.From), min(len(p.Measures), s.To)
	if s.From >= s.To {
		return nil, ErrNoMeasures
	}
	if s.Percent == 0 {
		s.Percent = 100
	}
	s.Percent = min(FastestPercent, max(SlowestPercent, s.Percent))
	b := builder{
		passage:  p,
		sounding: sounding,
		stretch:  s.stretch(p, sounding),
		written:  writtenChords(p),
		names:    names,
		counts:   ornamentCounts(sounding),
		held:     map[heldKey]heldNote{},
		moments:  ornamentMoments(sounding),
		plan:     &Plan{Settings: s, Rate: rate, Sounding: sounding, tempo: sounding.Tempo.Scaled(s.Percent / 100), way: sounding.Way, laid: laid{p, names}},
	}
	if s.part() {
		b.from, b.until = s.First, s.Until
	}
	b.plan.first, b.plan.until = b.from, b.until
	b.plan.from = b.plan.tempo.Seconds(b.from)
	b.countIn()
	b.notes()
	b.beats()
	b.landings()
	if s.Tap != NoHand && !b.wanted() {
		return nil, ErrNothing
	}
	return b.plan, nil
}

// Quarters returns the place in the passage that sounds at a frame of the
// plan; during the count-in it runs up to the first measure. A repeated plan
// goes round.
func (p *Plan) Quarters(frame float64) float64 { return p.way.Written(p.played(frame)) }

// played returns the place on the way through the passage.
func (p *Plan) played(frame float64) float64 {
	return p.tempo.Quarters(p.from + (p.around(frame)-float64(p.Lead))/float64(p.Rate))
}

// frame returns the frame of an onset.
func (p *Plan) frame(onset music.Frac) int64 {
	return p.Lead + int64(math.Round((p.tempo.Seconds(onset)-p.from)*float64(p.Rate)))
}

func (p *Plan) ms(frame int64) float64 { return float64(frame) * 1000 / float64(p.Rate) }

func writtenChords(p *score.Passage) map[score.ID]*score.Chord {
	chords := map[score.ID]*score.Chord{}
	for i := range p.Chords {
		for _, n := range p.Chords[i].Notes {
			chords[n.ID] = &p.Chords[i]
		}
	}
	return chords
}

// turn is one time that an ornament is played.
type turn struct {
	ornament string
	leg      int
}

func ornamentCounts(p *perf.Performance) map[turn]int {
	counts := map[turn]int{}
	for _, n := range p.Notes {
		if n.Ornament != "" {
			counts[turn{n.Ornament, n.Leg}]++
		}
	}
	return counts
}
