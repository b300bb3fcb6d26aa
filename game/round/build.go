package round

import (
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
	"agremens/synth"
)

// Releases: a key is let go a little before the next measure's repeat, and
// the landing rings for a beat, at least this long.
const landingSeconds = 0.6

// partLead is the silence before a part of a measure, in milliseconds: room for
// small notes before the beat.
const partLead = 400

type builder struct {
	passage  *score.Passage
	sounding *perf.Performance
	stretch
	written map[score.ID]*score.Chord
	names   map[string]string
	counts  map[turn]int // notes of each ornament; none for plain notes
	held    map[heldKey]heldNote
	moments map[turn]moments
	plan    *Plan
}

// countIn sets the lead and its clicks. A pickup keeps its place in the bar:
// the beats before it are counted too.
func (b *builder) countIn() {
	p := b.plan
	m := b.passage.Measures[b.first]
	beat, bar := m.Metre.Beat(), m.Metre.Bar()
	perQuarter := 60 / p.tempo.At(b.from)
	p.BeatMS = beat.Float() * perQuarter * 1000
	if p.Settings.part() {
		p.Lead = partLead * int64(p.Rate) / 1000
		return
	}
	if p.Settings.CountIn == 0 {
		p.Lead = int64(p.Rate)
		return
	}
	length := bar.Mul(music.Int(int64(p.Settings.CountIn)))
	if b.isPickup(b.first) {
		length = length.Add(bar.Sub(m.Length))
	}
	seconds := func(q music.Frac) float64 { return q.Float() * perQuarter }
	p.Lead = int64(seconds(length)*float64(p.Rate) + 0.5)
	for at := (music.Frac{}); at.Less(length); at = at.Add(beat) {
		kind := synth.Beat
		if at.Mod(bar).IsZero() {
			kind = synth.Strong
		}
		if p.Settings.Soft {
			kind = synth.Sub
		}
		p.Sequence.Clicks = append(p.Sequence.Clicks, synth.Click{At: int64(seconds(at)*float64(p.Rate) + 0.5), Kind: kind})
		for _, sub := range b.between(m.Metre) {
			p.Sequence.Clicks = append(p.Sequence.Clicks, synth.Click{At: int64(seconds(at.Add(sub))*float64(p.Rate) + 0.5), Kind: synth.Sub})
		}
	}
}

// between returns where the clicks between two beats stand, from the first one.
func (b *builder) between(m music.Metre) []music.Frac {
	switch beat := m.Beat(); {
	case !b.plan.Settings.Subdivide:
		return nil
	case m.Compound():
		return []music.Frac{beat.Mul(music.F(1, 3)), beat.Mul(music.F(2, 3))}
	default:
		return []music.Frac{beat.Mul(music.F(1, 2))}
	}
}

// isPickup reports whether a measure is a short one that leads into the next:
// the first of the passage, or one the score does not count.
func (b *builder) isPickup(i int) bool {
	m := b.passage.Measures[i]
	return m.Length.Less(m.Metre.Bar()) && (i == 0 || m.Implicit && b.passage.Measures[i-1].RepeatEnd)
}

// notes puts the sounding hands into the sequence and the tapped ones into
// the wants, up to and with the landing.
func (b *builder) notes() {
	p := b.plan
	landing, hasLanding := b.landing()
	end := p.frame(b.until)
	if hasLanding {
		end = max(end, p.frame(landing)+max(int64(landingSeconds*float64(p.Rate)), int64(p.BeatMS*float64(p.Rate)/1000)))
	}
	for _, n := range b.sounding.Notes {
		lands := hasLanding && n.Onset == landing
		sounds := b.soundsOn(&n)
		if !b.inside(&n) && !lands && !sounds {
			continue
		}
		start := max(0, p.frame(n.Onset))
		if sounds {
			start = p.Lead
		}
		if p.Settings.Play.Has(n.Hand) {
			stop := min(p.frame(n.End()), end)
			if n.Release {
				stop -= releaseFrames(stop-start, p.Rate)
			}
			p.Sequence.Notes = append(p.Sequence.Notes, synth.Note{Start: start, End: max(start+1, stop), Key: n.Pitch.MIDI(), Strength: n.Strength})
		}
		if p.Settings.Tap.Has(n.Hand) {
			b.want(&n, start, lands)
		}
	}
	p.Alone = len(p.Sequence.Notes) == 0 && p.Settings.Tap != BothHands
	p.Sequence.Length = end
	if p.Settings.Repeat {
		p.Sequence.Loop, p.Sequence.LoopStart = true, p.Lead
	}
}

// releaseFrames is how much earlier a key comes up that is struck again at
// once: 40 ms, but never more than a third of the note.
func releaseFrames(length int64, rate int) int64 { return min(int64(rate)/25, length/3) }

// inside reports whether a note belongs to the chosen measures: by its own
// onset, or by that of its principal where it comes before the beat.
func (b *builder) inside(n *perf.Note) bool {
	onset := n.Onset
	if w, ok := b.written[n.From]; ok && n.Ornament != "" {
		onset = onset.Max(b.playedAt(w.Onset, n))
	}
	return b.from.Cmp(onset) <= 0 && onset.Less(b.until)
}

// soundsOn reports whether a note was struck before the part of a measure that
// is meant and is still held in it: it is heard from the part's beginning.
func (b *builder) soundsOn(n *perf.Note) bool {
	return b.plan.Settings.part() && n.Ornament == "" && n.Onset.Less(b.from) && b.from.Less(n.End())
}

// landing returns the first onset after the chosen measures, in the tapped
// hand where one taps. A repeated round lands on its own beginning.
func (b *builder) landing() (music.Frac, bool) {
	if b.plan.Settings.Repeat {
		return music.Frac{}, false
	}
	for _, n := range b.sounding.Notes {
		if n.Onset.Less(b.until) || b.inside(&n) {
			continue
		}
		if tapped := b.plan.Settings.Tap; tapped == NoHand || tapped.Has(n.Hand) {
			// A landing more than a bar away is none.
			if b.until.Add(b.passage.Measures[b.last].Metre.Bar()).Less(n.Onset) {
				return music.Frac{}, false
			}
			return n.Onset, true
		}
	}
	return music.Frac{}, false
}

// beats marks the wants that fall on felt beats and adds the clicks.
func (b *builder) beats() {
	p := b.plan
	strong := map[music.Frac]bool{}
	on := map[music.Frac]bool{}
	for _, beat := range b.sounding.Beats {
		on[beat.Onset] = true
		p.beats = append(p.beats, beat.Onset)
		strong[beat.Onset] = beat.Strong
		if !p.Settings.Beat || beat.Onset.Less(b.from) || b.until.Cmp(beat.Onset) < 0 || p.Settings.Repeat && beat.Onset == b.until {
			continue
		}
		kind := synth.Beat
		if beat.Strong {
			kind = synth.Strong
		}
		p.Sequence.Clicks = append(p.Sequence.Clicks, synth.Click{At: p.frame(beat.Onset), Kind: kind})
		if beat.Onset == b.until {
			continue
		}
		for _, sub := range b.between(b.passage.Measures[beat.Measure].Metre) {
			p.Sequence.Clicks = append(p.Sequence.Clicks, synth.Click{At: p.frame(beat.Onset.Add(sub)), Kind: synth.Sub})
		}
	}
	for i := range p.Wants {
		w := &p.Wants[i]
		w.Beat, w.Strong = on[w.Onset], strong[w.Onset]
	}
}
