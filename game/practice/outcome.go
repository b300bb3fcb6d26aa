package practice

import (
	"strconv"
	"strings"

	"agremens/game/desk"
	"agremens/game/round"
	"agremens/realize/tap"
)

// Outcome is what came of a session.
type Outcome struct {
	Words desk.ResultWords
	// Next is the round that takes the next step; Kind "" offers none.
	Next    Next
	Records []round.Record
	// Result is what was judged, nil where nothing was; Marks is the round whose
	// taps can stand on the staff.
	Result *tap.Result
	Marks  *round.Round
	// Row is how many rounds in a row have been clean, with this one.
	Row int
}

// Outcome tells what came of a session that is over. row is how many rounds
// before it were clean in a row, on the same passage.
func (s *Session) Outcome(row int) Outcome {
	o := Outcome{Row: row}
	switch s.Kind.Key {
	case Which, Sign, First:
		s.heard(&o)
	case Vote:
		s.voted(&o)
	case Piano, Clap:
		if s.m.Heard {
			s.struck(&o)
		} else {
			s.played(&o)
		}
	case Pass:
		s.passed(&o)
	default:
		s.struck(&o)
	}
	return o
}

// struck is the outcome of what one player tapped.
func (s *Session) struck(o *Outcome) {
	last, ok := s.lastStruck()
	if !ok {
		return
	}
	result, ok := s.judge(func(d Done) bool { return d.Step.counts }, s.lead)
	if !ok {
		result = *last.Round.Result()
	}
	gaps, jumps := 0, 0
	for _, d := range s.done {
		if d.Round != nil && (d.Step.counts || s.Kind.Key == Climb) {
			gaps, jumps = gaps+d.Round.Gaps(), jumps+d.Round.Jumps()
		}
	}
	o.Result, o.Marks = &result, last.Round
	beat := last.Round.Plan().BeatMS
	o.Words = desk.WordsOf(&result, last.Step.Settings, beat, gaps, jumps)
	switch {
	case result.Spoilt != "": // as if it had not been
		o.Marks = nil
	case result.Clean && result.Certain:
		o.Row++
	default:
		o.Row = 0
	}
	o.Next = s.follow(&result, o.Row)
	if s.m.Heard && o.Next.Kind == Piano {
		o.Next = Next{} // there one is
	}
	switch {
	case result.Spoilt != "" && s.Kind.Key != Climb:
	case s.Kind.Key == Two:
		o.Words.Notes = append(s.handLines(last), o.Words.Notes...)
	case s.Kind.Key == Climb:
		s.climbWords(o)
	}
	if s.m.Heard && s.Kind.Key == Climb {
		o.Next = Next{} // what it leads to is tapped
	}
	if o.Next.Kind == Piano {
		o.Words.Next = tap.WordsIn(s.words()).Piano
	}
	if s.Kind.Key == Climb {
		for _, d := range s.done {
			if r := d.result(); r != nil {
				o.Records = append(o.Records, s.record(d, r))
			}
		}
		return
	}
	o.Records = append(o.Records, s.record(last, &result))
}

// climbWords puts the climb before the last round's words.
func (s *Session) climbWords(o *Outcome) {
	o.Words.Notes = append([]string{o.Words.Summary}, o.Words.Notes...)
	o.Words.Summary = s.climbed()
	switch s.climb.State {
	case tap.Arrived:
		o.Next = s.to(Next{Piano, 1, ""})
	case tap.Pause:
		o.Next = Next{}
		o.Words.Next = tap.WordsIn(s.words()).Rest
	default:
		o.Words.Next = s.say("From here on the next time, or after a rest.")
		o.Next = s.to(Next{"", 1, goOnClimbing})
	}
}

// handLines tells what each of two players did.
func (s *Session) handLines(d Done) []string {
	wants, taps, gaps := d.Round.Judged()
	var lines []string
	for hand, name := range [2]string{s.say("Right hand"), s.say("Left hand")} {
		var w []tap.Want
		for _, x := range wants {
			if int(x.Hand) == hand {
				w = append(w, x)
			}
		}
		var t []tap.Tap
		for _, x := range taps {
			if int(x.Hand) == hand {
				t = append(t, x)
			}
		}
		r := tap.Judge(w, t, tap.Options{BeatMS: d.Round.Plan().BeatMS, Gaps: gaps, Alone: true, Words: s.words()})
		lines = append(lines, s.say("{hand}: {said} ({n} of {all} notes)", "{hand}", name, "{said}", r.Summary, "{n}", strconv.Itoa(r.Hit), "{all}", strconv.Itoa(r.Wanted)))
	}
	return lines
}

// heard is the outcome of questions by ear.
func (s *Session) heard(o *Outcome) {
	n, right := 0, 0
	for _, d := range s.done {
		if d.Step.Act == Ask && d.Answer >= 0 {
			n++
			if d.Answer == d.Step.Right {
				right++
			}
		}
	}
	if n == 0 {
		return
	}
	o.Words.Summary = s.say("{n} of {all} recognized by ear.", "{n}", strconv.Itoa(right), "{all}", strconv.Itoa(n))
	o.Words.Next = s.say("Look at the signs again with the notes written out above them, and listen once more.")
	o.Next = s.to(Next{"", 1, onceMore})
	if right == n {
		o.Words.Next = s.say("Now tap what you have heard.")
		o.Next = s.to(Next{Echo, 1, ""})
	}
	c := s.record(s.done[len(s.done)-1], nil)
	c.Asked, c.Right = n, right
	o.Records = append(o.Records, c)
}

// voted tells how the vote came out, and only now the reasons.
func (s *Session) voted(o *Outcome) {
	for _, d := range s.done {
		if d.Step.Act != Count {
			continue
		}
		var votes [2]int // nobody may have voted
		copy(votes[:], d.Votes)
		o.Words.Summary = "A: " + strconv.Itoa(votes[0]) + ", B: " + strconv.Itoa(votes[1]) + "."
		o.Words.Next = s.say("Both can be played; here is why.")
		o.Words.Notes = strings.Split(strings.TrimSpace(d.Step.Reveal), "\n")
	}
}

// played is the outcome of what was played or clapped along.
func (s *Session) played(o *Outcome) {
	seconds := 0.0
	for _, d := range s.done {
		seconds += d.Seconds
	}
	if len(s.done) == 0 {
		return
	}
	o.Words.Summary = s.say("Clapped: {time}. Nothing was judged.", "{time}", s.minutes(seconds))
	if s.Kind.Key == Piano {
		o.Words.Summary = s.say("At the piano: {time}. Nothing was judged.", "{time}", s.minutes(seconds))
		o.Words.Next = s.say("Ask your teacher to listen to the rest: the auxiliary, the fingering, the touch, the loudness.")
	}
	c := s.record(s.done[len(s.done)-1], nil)
	c.Seconds = seconds
	o.Records = append(o.Records, c)
}

//words:texts
const goOnClimbing = "Go on climbing"

func (s *Session) minutes(seconds float64) string {
	if seconds < 60 {
		return s.say("less than a minute")
	}
	return s.words().Count(int(seconds/60+0.5), "{n} minute", "{n} minutes")
}

// record fills in the record of one player's taps.
func (s *Session) record(d Done, r *tap.Result) round.Record {
	set := d.Step.Settings
	c := round.Record{
		Player: d.Step.Player, Kind: s.Kind.Key, Passage: s.m.ID, Title: s.m.Title, Bars: s.m.Bars,
		Hands: set.Tap, Tempo: s.m.tempo(set), Goal: s.m.Goal, Seconds: d.Seconds,
		Help: round.Help{Following: set.Following(), Clicks: set.Beat, Line: !d.Step.Still},
	}
	if s.m.Heard && d.Round != nil {
		c.Tempo = 60_000 / d.Round.Plan().BeatMS // the player's own
	}
	c.Spoilt = r != nil && r.Spoilt != ""
	// A round that was broken off early tells nothing.
	if r != nil && !c.Spoilt && heardHalf(d.Round) {
		c.Fill(r, d.Round.Plan().BeatMS)
		for _, f := range r.Findings {
			c.Where = append(c.Where, s.m.where(f.Ornament))
		}
	}
	return c
}

func heardHalf(r *round.Round) bool {
	wants, _, _ := r.Judged()
	return 2*len(wants) >= len(r.Plan().Wants)
}
