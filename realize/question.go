package realize

import (
	"slices"
	"strconv"
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/sorting"
	"agremens/realize/words"
)

// Question is something the reading had to assume and the user can settle
// with one tap. Like places share one question, so that there are never more
// than [MostQuestions].
type Question struct {
	About   string // one of the words below
	Text    string
	Assumed string
	Note    score.ID   // the first place it is about, "" for the whole passage
	Notes   []score.ID // all places
	Options []Option   // the one that is assumed comes first
}

// What questions are about.
const (
	AboutTempo      = "tempo"
	AboutTradition  = "tradition"
	AboutChordSign  = "chord sign"
	AboutSlash      = "slash"
	AboutTrillEnd   = "trill end"
	AboutAccidental = "accidental"
	AboutSlur       = "slur"
	AboutHaydnSign  = "haydn sign"
)

// MostQuestions is how many questions a reading asks at most, one of a kind.
const MostQuestions = 6

// Option is one answer. [Reading.Answer] applies it.
type Option struct {
	Text      string
	Tradition string  // a tradition's key
	Tempo     float64 // quarters a minute
	Choice    string  // key of the choice to take
	Or        string  // the one to take where that is not offered, on very short notes
	// Upper and Lower move a neighbour by semitones.
	Upper, Lower int
}

// Answer settles a question with one of its options and returns the changed
// taste. Questions and options out of range change nothing.
func (r *Reading) Answer(t Taste, question, option int) Taste {
	if question < 0 || question >= len(r.Questions) || option < 0 || option >= len(r.Questions[question].Options) {
		return t
	}
	q := &r.Questions[question]
	a := q.Options[option]
	switch {
	case a.Tradition != "":
		t.Tradition = a.Tradition
	case a.Tempo > 0:
		t.Tempo = a.Tempo
	default:
		for _, id := range q.Notes {
			t = r.answerAt(t, id, a)
		}
	}
	return t
}

func (r *Reading) answerAt(t Taste, id score.ID, a Option) Taste {
	i := slices.IndexFunc(r.Ornaments, func(o Ornament) bool { return o.Note == id })
	if i < 0 {
		return t
	}
	o := &r.Ornaments[i]
	if a.Upper != 0 || a.Lower != 0 {
		own, err := r.Edit(o.ID, o.Chosen, Edit{Upper: a.Upper, Lower: a.Lower})
		if err != nil {
			return t
		}
		own.Why = a.Text
		return t.WithOwn(id, own)
	}
	for _, key := range []string{a.Choice, a.Or} {
		if key != "" && offers(o, key) {
			return t.Choose(id, key)
		}
	}
	if len(o.Choices) > 0 {
		return t.Choose(id, o.Choices[o.Chosen].Key) // what is assumed, now decided
	}
	return t
}

func tempoOptions(quarters float64, c *words.Catalogue) []Option {
	option := func(text string, factor float64) Option {
		return Option{Text: words.Fill(text, "{n}", c.Number(quarters*factor, 0)), Tempo: quarters * factor}
	}
	return []Option{
		option(c.Say("as assumed: {n} quarter notes per minute"), 1),
		option(c.Say("slower: {n} quarter notes per minute"), .8),
		option(c.Say("faster: {n} quarter notes per minute"), 1.25),
	}
}

func traditionOptions(assumed *tradition, c *words.Catalogue) []Option {
	out := []Option{{Text: c.Say(assumed.name), Tradition: assumed.key}}
	for _, t := range traditions {
		if t != assumed {
			out = append(out, Option{Text: c.Say(t.name), Tradition: t.key})
		}
	}
	return out
}

// questions gathers what is asked of single places, one question of a kind.
type questions struct {
	words *words.Catalogue
	of    []Question
}

// about asks what is open at one place, unless it is decided.
func (q *questions) about(pl *place, o *Ornament) {
	t := &pl.r.taste
	_, chosen := t.Chosen[o.Note]
	if _, own := t.Own[o.Note]; chosen || own || len(o.Choices) == 0 {
		return
	}
	first, bar := &o.Choices[o.Chosen], pl.r.p.Measures[pl.chord.Measure].Number
	if pl.moved && len(pl.chord.Notes) > 1 {
		q.add(pl, Question{About: AboutChordSign,
			Text: pl.say("Bar {bar}: in the file the sign belongs to {note} of the chord. Is it printed above the chord in your edition?",
				"{bar}", bar, "{note}", pl.octaved(pl.chord.Notes[min(pl.stored, len(pl.chord.Notes)-1)].Pitch)),
			Assumed: pl.say("it belongs to {note}, the outer note on that side", "{note}", pl.octaved(pl.pitch)),
			Options: []Option{{Text: pl.say("yes, to the outer note"), Choice: first.Key}, {Text: pl.say("not sure: leave it out for now"), Choice: "plain"}}})
	}
	if pl.has(graceSlash) && pl.r.trad.slashDoubtful && pl.figure == graceFigure {
		q.add(pl, Question{About: AboutSlash,
			Text:    pl.say("Bar {bar}: is the slash through the grace note the composer's or the editor's?", "{bar}", bar),
			Assumed: pl.say("the editor's; the long reading stays first"),
			Options: []Option{{Text: pl.say("the editor's: {choice}", "{choice}", first.Name), Choice: first.Key}, {Text: pl.say("the composer's: short"), Choice: "lean.crush", Or: "lean.quarter"}}})
	}
	if pl.has(tied) && longTrill(pl.figure) && !pl.has(suffixWritten) && !pl.has(anticipated) && pl.has(long) {
		q.add(pl, pl.trillEnd(o, first, bar))
	}
	if pl.has(byHaydn) && !pl.has(tight) && offers(o, "mordent.single") {
		ask := Question{About: AboutHaydnSign,
			Text:    pl.say("Bar {bar}: is the turn on {main} Haydn's own sign in your edition (a turn with a short stroke through it)? On a longer note it may mean a mordent.", "{bar}", bar, "{main}", pl.spoken(pl.pitch)),
			Assumed: pl.say("an ordinary turn"),
			Options: []Option{{Text: pl.say("an ordinary turn"), Choice: first.Key}, {Text: pl.say("Haydn's own sign: mordent"), Choice: "mordent.single"}}}
		if offers(o, "short.three") {
			ask.Options = append(ask.Options, Option{Text: pl.say("Haydn's own sign: half trill"), Choice: "short.three"})
		}
		q.add(pl, ask)
	}
	if !q.turn(pl, first, bar) {
		q.accidental(pl, first, bar)
	}
	if pl.halfSlurred {
		q.slur(pl, o, first, bar)
	}
}

func offers(o *Ornament, key string) bool {
	return slices.ContainsFunc(o.Choices, func(c Choice) bool { return c.Key == key })
}

func longTrill(f figure) bool { return f.shaken() && f != shortTrillFigure }

// trillEnd asks how a trill on a tied note ends where nothing is printed.
func (pl *place) trillEnd(o *Ornament, first *Choice, bar string) Question {
	closed := strings.Contains(first.Key, ".suffix")
	ask := Question{About: AboutTrillEnd,
		Text:    pl.say("Bar {bar}: the trilled note is tied over and no termination is printed. How does it end?", "{bar}", bar),
		Assumed: pl.say("without termination")}
	if closed {
		ask.Assumed = pl.say("with termination, at the end of the tie")
	}
	ask.Options = []Option{{Text: pl.say("as assumed: {choice}", "{choice}", first.Name), Choice: first.Key}}
	for i := range o.Choices {
		c := &o.Choices[i]
		if strings.HasPrefix(c.Key, "trill") && strings.Contains(c.Key, ".suffix") != closed {
			ask.Options = append(ask.Options, Option{Text: c.Name, Choice: c.Key})
			break
		}
	}
	return ask
}

// octaved names a pitch with its octave.
func (pl *place) octaved(p music.Pitch) string { return pl.spoken(p) + strconv.Itoa(int(p.Octave)) }

// accidental asks where the same letter stands altered otherwise earlier in
// the bar, and neither sign nor line settles the neighbour.
//
//words:texts
func (q *questions) accidental(pl *place, first *Choice, bar string) {
	for _, step := range []int{1, -1} {
		near, fixed := pl.upper, pl.upperFixed
		if step < 0 {
			near, fixed = pl.lower, pl.lowerFixed
		}
		at := slices.IndexFunc(first.Notes, func(n Note) bool { return n.Degree == step })
		if fixed || at < 0 {
			continue
		}
		near = first.Notes[at].Pitch
		other, sameHand := pl.alteredBefore(near)
		by := int(other.Alter) - int(near.Alter)
		if by == 0 {
			continue
		}
		option := Option{Text: pl.spoken(other), Upper: by}
		if step < 0 {
			option = Option{Text: pl.spoken(other), Lower: by}
		}
		text := "Bar {bar}: {note} comes earlier in the other hand. Does the ornament on {main} have {note} or {near}?"
		if sameHand {
			text = "Bar {bar}: {note} comes earlier in the bar. Does the ornament on {main} have {note} or {near}?"
		}
		q.add(pl, Question{About: AboutAccidental,
			Text:    pl.say(text, "{bar}", bar, "{note}", pl.spoken(other), "{near}", pl.spoken(near), "{main}", pl.spoken(pl.pitch)),
			Assumed: pl.say("it has {note}", "{note}", pl.spoken(near)),
			Options: []Option{{Text: pl.spoken(near), Choice: first.Key}, option}})
		return
	}
}

// turn asks about both neighbours of a turn at once where two are possible,
// since the lower one follows from the upper: together they fill a minor third.
func (q *questions) turn(pl *place, first *Choice, bar string) bool {
	find := func(step int) int {
		return slices.IndexFunc(first.Notes, func(n Note) bool { return n.Degree == step })
	}
	above, below := find(1), find(-1)
	if !pl.figure.turned() || pl.upperFixed || above < 0 || below < 0 {
		return false
	}
	up, down := first.Notes[above].Pitch, first.Notes[below].Pitch
	up2, _ := pl.alteredBefore(up)
	if up2 == up && pl.unsure[1] != nil {
		up2 = up.WithAlter(int(pl.unsure[1].Alter))
	}
	size := pl.pitch.To(up2).Semitones
	if up2 == up || size < 1 || size > 2 {
		return false
	}
	down2 := down
	if _, marked := pl.marked(-1); !marked {
		down2 = down.WithAlter(int(down.Alter) + down.To(pl.pitch).Semitones - (3 - size))
	}
	pair := func(a, b music.Pitch) string {
		return pl.say("{upper} and {lower}", "{upper}", pl.spoken(a), "{lower}", pl.spoken(b))
	}
	q.add(pl, Question{About: AboutAccidental,
		Text:    pl.say("Bar {bar}: does the turn on {main} take {one}, or {other}?", "{bar}", bar, "{main}", pl.spoken(pl.pitch), "{one}", pair(up, down), "{other}", pair(up2, down2)),
		Assumed: pair(up, down),
		Options: []Option{{Text: pair(up, down), Choice: first.Key},
			{Text: pair(up2, down2), Upper: int(up2.Alter) - int(up.Alter), Lower: int(down2.Alter) - int(down.Alter)}}})
	return true
}

// orSlurred offers what comes first under the whole of a slur of which the file
// has one end only, in the place of the last that can be spared.
func (pl *place) orSlurred(choices []Choice) []Choice {
	under := *pl
	under.set(prevSlurred, true)
	other := pl.r.choices(&under)[0]
	pl.slurred = other.Key
	has := func(c Choice) bool { return c.Key == other.Key }
	if slices.ContainsFunc(choices, has) {
		return choices
	}
	taken := pl.r.taste.taken(pl.note.ID, signNames(pl))
	for i := len(choices) - 1; i > 0 && len(choices) >= pl.most(); i-- {
		if c := choices[i].Key; c != "plain" && !strings.HasPrefix(c, "lean") && !slices.Contains(taken, c) {
			choices = slices.Delete(choices, i, i+1)
			break
		}
	}
	return append(choices, other)
}

// slur asks about such a slur where the ornament would be played otherwise.
func (q *questions) slur(pl *place, o *Ornament, first *Choice, bar string) {
	i := slices.IndexFunc(o.Choices, func(c Choice) bool { return c.Key == pl.slurred })
	if i < 0 || pl.slurred == first.Key {
		return
	}
	q.add(pl, Question{About: AboutSlur,
		Text:    pl.say("Bar {bar}: the file has only one end of a slur here. In your edition, does a slur lead from {note} to {main}?", "{bar}", bar, "{note}", pl.spoken(*pl.prev), "{main}", pl.spoken(pl.pitch)),
		Assumed: pl.say("no slur leads to the ornament"),
		Options: []Option{{Text: pl.say("no: {choice}", "{choice}", first.Name), Choice: first.Key}, {Text: pl.say("yes: {choice}", "{choice}", o.Choices[i].Name), Choice: pl.slurred}}})
}

// alteredBefore finds the last note of a pitch's letter before the ornament in
// its bar, and whether it stands in the same hand; the pitch itself if there
// is none.
func (pl *place) alteredBefore(near music.Pitch) (other music.Pitch, sameHand bool) {
	p := pl.r.p
	other = near
	for i := p.FirstAt(p.Measures[pl.chord.Measure].Onset); i < len(p.Chords) && p.Chords[i].Onset.Less(pl.chord.Onset); i++ {
		c := &p.Chords[i]
		for j := range c.Notes {
			if n := &c.Notes[j]; n.Pitch.Step == near.Step {
				other = near.WithAlter(int(n.Pitch.Alter))
				sameHand = c.Staff == pl.chord.Staff
			}
		}
	}
	return other, sameHand
}

// add joins a place to the question of its kind, where that asks the same.
func (q *questions) add(pl *place, ask Question) {
	id := pl.note.ID
	for i := range q.of {
		if q.of[i].About != ask.About {
			continue
		}
		// Answers that name choices or notes of one place hold for others only
		// where they are the same.
		if slices.Equal(q.of[i].Options, ask.Options) && ask.About != AboutAccidental {
			q.of[i].Notes = append(q.of[i].Notes, id)
		}
		return
	}
	ask.Note, ask.Notes = id, []score.ID{id}
	q.of = append(q.of, ask)
}

// list returns the questions, most telling first, and says how many places
// each is about. room is how many there may be.
func (q *questions) list(room int) []Question {
	order := []string{AboutChordSign, AboutSlash, AboutTrillEnd, AboutHaydnSign, AboutAccidental, AboutSlur}
	sorting.Stable(q.of, func(a, b Question) int { return slices.Index(order, a.About) - slices.Index(order, b.About) })
	q.of = q.of[:min(len(q.of), max(0, room))]
	for i := range q.of {
		if n := len(q.of[i].Notes) - 1; n > 0 {
			q.of[i].Text += " " + q.words.Count(n, "The same in one more place.", "The same in {n} more places.")
		}
	}
	return q.of
}
