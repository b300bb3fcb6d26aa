package musicxml

import (
	"cmp"
	"slices"
	"sort"
	"strconv"

	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
	"agremens/realize/sorting"
)

// EncodeRealized writes a reading as a MusicXML 4.0 score in which every
// ornament stands written out as it is played, in legal note values, without
// its sign and small notes.
func EncodeRealized(r *realize.Reading) ([]byte, error) {
	return Encode(WriteOut(r))
}

// WriteOut returns the passage of a reading with its ornaments written out.
// What no ornament touches keeps its notation. Notes of an ornament that
// sound beside held notes of their chord go to a voice of their own. Where an
// ornament begins before the first beat, an upbeat measure is added and all
// onsets move on by its length.
func WriteOut(r *realize.Reading) *score.Passage {
	w := &writer{p: r.Passage, out: r.Passage.Clone(), lines: map[string][]interval{}, extra: map[string][]string{}}
	w.used = map[string]bool{}
	for i := range w.p.Chords {
		w.used[w.p.Chords[i].Voice] = true
	}
	played := realize.Perform(r, realize.PerformOptions{})
	w.cues = w.p.CuesSounding()
	w.keep(played)
	w.gather(r, played)
	w.lead()
	w.layRests()
	w.notate()
	w.finish()
	return w.out
}

// writer writes ornaments out.
type writer struct {
	p    *score.Passage // as it was
	out  *score.Passage
	kept map[score.Ref]bool // notes that sound as they are written

	items []item
	lines map[string][]interval // what each voice holds, sorted
	extra map[string][]string   // further voices beside a voice
	used  map[string]bool       // voice names
	cues  []bool                // by chord of p: cue-size, and sounds
	first music.Frac            // length of the added upbeat

	chords  []newChord
	tuplets []newTuplet
}

// item is a stretch of time to be notated: a note, a chord, or a rest.
type item struct {
	source     int // chord of p
	voice      string
	staff      int
	onset, end music.Frac
	notes      []score.Note // none for a rest
	ornament   string
}

type interval struct{ from, to music.Frac }

// keep finds the notes that sound as they are written; their ties stay too.
func (w *writer) keep(played *perf.Performance) {
	w.kept = map[score.Ref]bool{}
	sounding := map[score.ID]*perf.Note{}
	cut := w.cutByOthers(played)
	for i := range played.Notes {
		if n := &played.Notes[i]; n.Ornament == "" {
			sounding[n.From] = n
		}
	}
	for i := range w.p.Chords {
		c := &w.p.Chords[i]
		if c.Grace != nil {
			continue
		}
		for j := range c.Notes {
			ref := score.Ref{Chord: i, Note: j}
			if c.Cue && !w.cues[i] {
				w.kept[ref] = true
				continue
			}
			n := sounding[c.Notes[j].ID]
			if n == nil || n.Onset != c.Onset {
				continue
			}
			chain := w.p.TiedOn(ref)
			last := chain[len(chain)-1]
			if end := w.p.Chords[last.Chord].End(); n.End() != end && !(cut[n.From] && n.End().Less(end)) {
				continue
			}
			for _, t := range chain {
				w.kept[t] = true
			}
		}
	}
}

// cutByOthers finds the notes that end early only because another printed
// note strikes their key.
func (w *writer) cutByOthers(played *perf.Performance) map[score.ID]bool {
	next := map[int]*perf.Note{}
	cut := map[score.ID]bool{}
	for i := len(played.Notes) - 1; i >= 0; i-- {
		n := &played.Notes[i]
		if b := next[n.Pitch.MIDI()]; b != nil && n.Release && n.Ornament == "" && b.Ornament == "" && b.Onset == n.End() {
			cut[n.From] = true
		}
		next[n.Pitch.MIDI()] = n
	}
	return cut
}

// gather makes items of all other notes and gives each a voice.
func (w *writer) gather(r *realize.Reading, played *perf.Performance) {
	for i := range w.p.Chords {
		c := &w.p.Chords[i]
		for j := range c.Notes {
			if w.kept[score.Ref{Chord: i, Note: j}] {
				w.occupy(c.Voice, interval{c.Onset, c.End()})
				break
			}
		}
	}
	where := map[score.ID]score.Ref{}
	for i := range w.p.Chords {
		for j := range w.p.Chords[i].Notes {
			where[w.p.Chords[i].Notes[j].ID] = score.Ref{Chord: i, Note: j}
		}
	}
	principals := map[string]score.Ref{}
	for i := range r.Ornaments {
		principals[r.Ornaments[i].ID] = r.Ornaments[i].Ref
	}
	named := map[score.ID]bool{}
	for i := range played.Notes {
		n := &played.Notes[i]
		ref, ok := where[n.From]
		if n.Ornament != "" {
			ref, ok = principals[n.Ornament], true
		}
		if !ok || n.Ornament == "" && w.kept[ref] {
			continue
		}
		written := score.Note{Pitch: n.Pitch, Staff: 1}
		if n.Hand == perf.Left && w.p.Staves > 1 {
			written.Staff = 2
		}
		// The first note for a printed one keeps its id.
		if !named[n.From] && !w.kept[where[n.From]] {
			named[n.From] = true
			written.ID = n.From
		}
		it := item{
			source: ref.Chord, voice: w.p.Chords[ref.Chord].Voice, staff: written.Staff,
			onset: n.Onset, end: n.End(), notes: []score.Note{written}, ornament: n.Ornament,
		}
		if k := w.together(it); k >= 0 {
			w.items[k].notes = append(w.items[k].notes, written)
			continue
		}
		w.items = append(w.items, it)
	}
	w.allot()
}

// together finds an item that makes one chord with it.
func (w *writer) together(it item) int {
	for k := len(w.items) - 1; k >= 0 && w.items[k].onset == it.onset; k-- {
		o := &w.items[k]
		if o.end == it.end && o.source == it.source && o.staff == it.staff && o.ornament == it.ornament {
			return k
		}
	}
	return -1
}

// allot puts items into their voice, or the first one beside it that is free
// for all notes of their ornament.
func (w *writer) allot() {
	groups := map[string][]int{}
	var order []string
	for i := range w.items {
		key := w.items[i].ornament
		if key == "" {
			key = "plain " + strconv.Itoa(i)
		}
		if groups[key] == nil {
			order = append(order, key)
		}
		groups[key] = append(groups[key], i)
	}
	for _, key := range order {
		group := groups[key]
		home := w.items[group[0]].voice
		voice := w.findVoice(home, group)
		for _, i := range group {
			it := &w.items[i]
			span := interval{it.onset, it.end}
			it.voice = voice
			if !w.free(voice, span) {
				it.voice = w.findVoice(home, []int{i})
			}
			w.occupy(it.voice, span)
		}
	}
}

func (w *writer) findVoice(home string, group []int) string {
	fits := func(voice string) bool {
		for _, i := range group {
			if !w.free(voice, interval{w.items[i].onset, w.items[i].end}) {
				return false
			}
		}
		return true
	}
	if fits(home) {
		return home
	}
	for _, v := range w.extra[home] {
		if fits(v) {
			return v
		}
	}
	n := 1
	for w.used[strconv.Itoa(n)] {
		n++
	}
	name := strconv.Itoa(n)
	w.used[name] = true
	w.extra[home] = append(w.extra[home], name)
	return name
}

func (w *writer) free(voice string, s interval) bool {
	line := w.lines[voice]
	at := sort.Search(len(line), func(i int) bool { return s.from.Less(line[i].to) })
	return at == len(line) || s.to.Cmp(line[at].from) <= 0
}

func (w *writer) occupy(voice string, s interval) {
	line := w.lines[voice]
	at := sort.Search(len(line), func(i int) bool { return s.from.Cmp(line[i].from) <= 0 })
	w.lines[voice] = slices.Insert(line, at, s)
}

// lead finds how long an upbeat must be added for what begins before the
// first beat.
func (w *writer) lead() {
	early := music.Frac{}
	for i := range w.items {
		early = early.Min(w.items[i].onset.Sub(w.p.Measures[0].Onset))
	}
	if early.Sign() < 0 {
		w.first = music.F(1, 4)
		for w.first.Less(early.Neg()) {
			w.first = w.first.Mul(music.Int(2))
		}
	}
}

// layRests cuts rests to the time their voice leaves them.
func (w *writer) layRests() {
	for i := range w.p.Chords {
		c := &w.p.Chords[i]
		if !c.IsRest() || c.Hidden || w.free(c.Voice, interval{c.Onset, c.End()}) {
			continue
		}
		from := c.Onset
		for _, s := range w.lines[c.Voice] {
			if s.to.Cmp(from) <= 0 || c.End().Cmp(s.from) <= 0 {
				continue
			}
			if from.Less(s.from) {
				w.items = append(w.items, item{source: i, voice: c.Voice, staff: c.Staff, onset: from, end: s.from})
			}
			from = from.Max(s.to)
		}
		if from.Less(c.End()) {
			w.items = append(w.items, item{source: i, voice: c.Voice, staff: c.Staff, onset: from, end: c.End()})
		}
	}
	sorting.Stable(w.items, func(a, b item) int { return cmp.Or(a.onset.Cmp(b.onset)) })
}
