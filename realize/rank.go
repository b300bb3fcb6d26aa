package realize

import (
	"slices"
	"sort"
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
)

// candidate is a shape that a rule has put forward.
type candidate struct {
	key    string
	raised bool
	weight int
	why    string
	from   []string
	when   []fact
	// other marks the same shape with the other lower neighbour.
	other bool
	// habit is its place among what performers do, -1 for none; measured the
	// figure that put it first.
	habit    int
	measured string
	// instead says why it took the place of another, "" where it did not.
	instead string
}

// choices puts forward what the tradition knows for a figure in its context,
// then what good taste also allows, realizes each and keeps a few. Best first.
func (r *reader) choices(pl *place) []Choice {
	var options []option
	for _, c := range r.candidates(pl) {
		choice, ok := r.realize(pl, c)
		if !ok {
			continue
		}
		if k := slices.IndexFunc(options, func(x option) bool { return SameNotes(x.Notes, choice.Notes) }); k >= 0 {
			if c.habit >= 0 && (options[k].habit < 0 || c.habit < options[k].habit) {
				options[k].habit, options[k].measured = c.habit, c.measured
			}
			continue
		}
		options = append(options, option{choice, c})
	}
	pl.yieldToFaults(options)
	options = pl.shortlist(options)
	if r.taste.Prefer == Performers { // those without a habit last
		sort.SliceStable(options, func(i, j int) bool { return uint(options[i].habit) < uint(options[j].habit) })
	}
	pl.yieldToRate(options)
	out := make([]Choice, len(options))
	for i := range options {
		pl.explain(&options[i])
		out[i] = options[i].Choice
	}
	return out
}

// SameNotes reports whether two realizations are the same to the ear: the same
// keys struck and held at the same times.
func SameNotes(a, b []Note) bool {
	return slices.EqualFunc(a, b, func(x, y Note) bool {
		return x.Pitch == y.Pitch && x.Onset == y.Onset && x.Dur == y.Dur && x.Tied == y.Tied
	})
}

func (r *reader) candidates(pl *place) []candidate {
	var found []candidate
	at := map[string]int{}
	for _, rules := range [][]rule{r.trad.rules, commonRules} {
		for i := range rules {
			rl := &rules[i]
			if !slices.Contains(rl.figures, pl.figure) || !pl.all(rl.when) || pl.any(rl.unless) {
				continue
			}
			if k, seen := at[rl.shape]; seen {
				if found[k].weight < rl.weight {
					found[k].weight, found[k].why, found[k].from, found[k].when = rl.weight, rl.why, rl.from, rl.when
				}
				continue
			}
			at[rl.shape] = len(found)
			found = append(found, candidate{key: rl.shape, habit: -1, weight: rl.weight, why: rl.why, from: rl.from})
		}
	}
	found = r.lowerNotes(pl, found)
	r.forThePlayer(pl, found)
	pl.farAway(found)
	r.askPerformers(pl, found)
	sort.SliceStable(found, func(i, j int) bool { return found[i].weight > found[j].weight })
	return found
}

// farAway gives the choices for a small note that lies an octave and more from
// its principal another reason than that it leans.
//
//words:texts why
func (pl *place) farAway(found []candidate) {
	if n := len(pl.prefixTones); pl.figure != graceFigure || n == 0 || abs(pl.prefixTones[n-1].degree) < 7 {
		return
	}
	for i := range found {
		if strings.Contains(strings.ToLower(found[i].why), "lean") {
			found[i].why = "So far away the grace note is not an appoggiatura; it only takes its time from {0}."
		}
	}
}

// lowerNotes decides for figures that touch the lower neighbour whether it is
// a semitone, and puts the other form of the best one forward too.
//
//words:texts why
func (r *reader) lowerNotes(pl *place, found []candidate) []candidate {
	if pl.raised == nil {
		return found
	}
	best, top := -1, -1
	raise := r.raisesLower(pl)
	for i := range found {
		sh := shapes[found[i].key]
		if !touchesLower(&sh) {
			continue
		}
		found[i].raised = raise
		if found[i].weight > top {
			best, top = i, found[i].weight
		}
	}
	if best < 0 {
		return found
	}
	other := found[best]
	other.raised, other.other, other.habit = !raise, true, -1
	other.weight = min(other.weight-1, 10)
	other.why = "The same with {-1} below: a semitone where {0} is stressed, the note of the scale elsewhere."
	other.from = []string{"grove-mordent", "common"}
	return append(found, other)
}

func touchesLower(sh *shape) bool {
	return sh.suffix || slices.Contains(sh.steps, -1)
}

// raisesLower applies the tradition's habit: never on the third or seventh
// degree, and always where the raised note already stands in the bar without
// its natural.
func (r *reader) raisesLower(pl *place) bool {
	if pl.lowerByLine {
		return false
	}
	if r.onlyRaisedInBar(pl) {
		return true
	}
	// On these degrees, or where the key is not sure, only between two whole
	// tones. Pianists raise it there in 82 of 100 turns, measured.
	degree := pl.key.Degree(pl.pitch.Step)
	unsure := pl.key.Mode == music.UnknownMode || degree == 3 || degree == 7
	if whole := pl.upper.MIDI()-pl.pitch.MIDI() == 2 && pl.pitch.MIDI()-pl.lower.MIDI() == 2; unsure && !whole {
		return false
	}
	switch pl.figure {
	case turnFigure, lateTurnFigure, invertedTurnFigure, lateInvertedTurn, haydnFigure:
		return r.trad.raises != diatonicLower
	case mordentFigure, longMordentFigure, trillFigure, shortTrillFigure:
		return r.trad.raises == raisedAll
	}
	return false
}

func (r *reader) onlyRaisedInBar(pl *place) bool {
	raised, natural := false, false
	m := &r.p.Measures[pl.chord.Measure]
	for i := r.p.FirstAt(m.Onset); i < len(r.p.Chords) && r.p.Chords[i].Onset.Less(m.End()); i++ {
		for j := range r.p.Chords[i].Notes {
			q := r.p.Chords[i].Notes[j].Pitch
			if q.Step == pl.raised.Step {
				raised = raised || q.Alter == pl.raised.Alter
				natural = natural || q.Alter != pl.raised.Alter
			}
		}
	}
	return raised && !natural
}

// realize turns a candidate into a choice.
func (r *reader) realize(pl *place, c candidate) (Choice, bool) {
	sh, known := shapes[c.key]
	if !known {
		panic("realize: no shape " + c.key)
	}
	sh.raised = c.raised
	notes, borrows, ok := pl.within(&sh)
	if !ok || len(notes) == 0 {
		return Choice{}, false
	}
	for i := range notes {
		if notes[i].Dur.Sign() <= 0 {
			return Choice{}, false
		}
	}
	key := c.key
	if c.raised {
		key += ".raised"
	}
	name := sh.name
	if pl.figure == graceFigure && sh.one != "" {
		name = sh.one
	}
	out := Choice{Key: key, Name: r.say(name), Notes: notes, Borrows: borrows}
	out.NotesPerSecond = pl.speed(notes)
	return out, true
}

// explain says why, on whose word and with what risk, and how a hand takes it.
func (pl *place) explain(o *option) {
	sh, out := shapes[o.candidate.key], &o.Choice
	sh.raised = o.raised
	out.Reason = pl.reason(&o.candidate, &sh)
	fits(&out.Reason, o.instead)
	if pl.r.taste.Prefer == Performers {
		if fits(&out.Reason, pl.effect(out)) {
			out.Sources = append(out.Sources, pl.r.source("counted"))
		}
		if o.measured != "" && pl.r.speaksOf(o.measured) && fits(&out.Reason, pl.say("Concert pianists: {figure}.", "{figure}", pl.say(o.measured))) {
			out.Sources = append(out.Sources, pl.r.source("measured"))
		}
	}
	fits(&out.Reason, pl.meetings(&sh, out.Notes))
	if text := pl.here(&o.candidate, &sh); len(strings.Fields(out.Reason+" "+text)) <= shortReason {
		fits(&out.Reason, text)
	}
	for _, s := range cited(o.from, pl.r.trad.key) {
		out.Sources = append(out.Sources, pl.r.source(s))
	}
	out.Warnings = texts(pl.cautions(&sh, out))
	out.fingered(pl.fingerings(out.Notes))
	out.Meetings = pl.meet(out.Notes)
}

// within renders a shape after the roll and the small notes that come before
// it on the same principal.
func (pl *place) within(sh *shape) ([]Note, []Borrow, bool) {
	room := figureRoom{length: pl.room}
	var before []Note
	if pl.rolled != "" && pl.figure != arpeggioFigure && sh.time != roll {
		before = pl.rollUnder(&room)
	}
	takesPrefix := sh.absorbs || sh.time == lean || sh.time == early || sh.time == printed || sh.time == shake || sh.time == plain || sh.time == closing
	if len(pl.prefixTones) > 0 && !sh.absorbs && (!takesPrefix || len(sh.steps) > 0 && sh.time != shake) {
		before = append(before, pl.leadIn(&room)...)
	}
	if len(pl.suffixTones) > 0 && sh.time != shake && sh.time != plain && sh.time != closing {
		return pl.withEnding(sh, room, before)
	}
	notes, borrows, ok := pl.render(sh, room)
	notes = append(before, notes...)
	sortNotes(notes)
	return notes, borrows, ok
}

// leadIn plays the small notes before another figure: one leans for half the
// room or its printed value, more are quick.
func (pl *place) leadIn(room *figureRoom) []Note {
	n := len(pl.prefixTones)
	var each music.Frac
	if n == 1 && !pl.has(graceSlash) && !pl.has(graceShort) {
		each = room.length.Mul(music.F(1, 2))
		if !pl.r.trad.early && pl.leanFor.Less(each) {
			each = pl.leanFor
		}
	} else {
		each = unitFor(quickUnit(pl.qpm), room.length, n, music.F(1, 2))
	}
	values := make([]music.Frac, n)
	for i := range values {
		values[i] = each
	}
	notes := lay(room.from, pl.prefixTones, values, true)
	used := each.Mul(music.Int(int64(n)))
	room.from, room.length = room.from.Add(used), room.length.Sub(used)
	return notes
}

// withEnding renders a shape that knows no ending and closes it with the
// small notes that stand after the principal.
func (pl *place) withEnding(sh *shape, room figureRoom, before []Note) ([]Note, []Borrow, bool) {
	n := music.Int(int64(len(pl.suffixTones)))
	u := quickUnit(pl.qpm).Min(room.length.Mul(music.F(1, 3)).Div(n))
	room.length = room.length.Sub(u.Mul(n))
	notes, borrows, ok := pl.render(sh, room)
	if !ok {
		return nil, nil, false
	}
	values := make([]music.Frac, len(pl.suffixTones))
	for i := range values {
		values[i] = u
	}
	notes = append(before, notes...)
	notes = append(notes, lay(room.from.Add(room.length), pl.suffixTones, values, true)...)
	sortNotes(notes)
	return notes, borrows, true
}

// rollUnder enters the chord's other notes one after another and leaves the
// principal's turn to the figure.
func (pl *place) rollUnder(room *figureRoom) []Note {
	count := len(pl.chord.Notes)
	if count < 2 {
		return nil
	}
	u := pl.rollUnit(count, room.length)
	var notes []Note
	place := 0
	for k := range count {
		j := k
		if pl.rolled == score.ArpeggioDown {
			j = count - 1 - k
		}
		at := u.Mul(music.Int(int64(k)))
		if j == pl.ref.Note {
			place = k
			continue
		}
		p := pl.chord.Notes[j].Pitch
		notes = append(notes, Note{Pitch: p, Onset: at, Dur: pl.alsoRoom(j).Sub(at), Degree: p.Diatonic() - pl.pitch.Diatonic(), Strength: 1, Measured: true})
	}
	used := u.Mul(music.Int(int64(place)))
	room.from, room.length = used, room.length.Sub(used)
	return notes
}

// speed is the rate of the quickest notes, in notes a second.
func (pl *place) speed(notes []Note) float64 {
	if len(notes) < 3 {
		return 0
	}
	least := notes[0].Dur
	for _, n := range notes {
		least = least.Min(n.Dur)
	}
	return 1 / pl.seconds(least)
}
