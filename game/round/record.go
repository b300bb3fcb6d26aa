package round

import (
	"agremens/realize/tap"
)

// Record is what is kept of one finished round: enough for a log, a report
// and the question whether anything changed. It holds no names beyond what the
// edge puts in.
type Record struct {
	// Date is the day and time as the edge tells it, "2026-11-25T14:03", in
	// the player's own time.
	Date string
	// Player is the first name or initials of who tapped, "" for nobody in
	// particular.
	Player string
	Kind   string // key of the kind of round (see game/practice)
	// Passage is its id, Title its name for people.
	Passage, Title string
	Bars           string // as printed, "1-4"
	Hands          Hands  // tapped
	// Tempo and Goal are felt beats a minute.
	Tempo, Goal float64
	Help        Help

	// Judged is false for rounds in which nothing is judged (listening, at
	// the piano, clapping) and for questions by ear.
	Judged bool
	Clean  bool // by the written definition of a clean round
	// Certain is false where there was too little to tell; Doubt says why.
	Certain bool
	Doubt   string

	Wanted, Hit, Missed, Extra int
	MeanMS, SpreadMS           float64 // raw, late positive
	Answers                    tap.Answers
	// Starts are how late each ornament started against the other hand or the
	// beat, ms; Uneven is the scatter of each one's quick notes, as a share.
	Starts, Uneven []float64
	Findings       []string // codes, most important first
	// Where says for each of them at which sign it was found: the printed bar
	// and the sign's key, "5 trill"; "" where it holds for several.
	Where []string

	// Asked and Right count questions by ear.
	Asked, Right int
	// Seconds is how long it lasted, for rounds without a judgement too.
	Seconds float64
	// Spoilt says that the round does not count: it took time, no more.
	Spoilt bool
	// Dropped says that it was somebody else ("that wasn't me").
	Dropped bool
}

// Help is what helped the player in a round.
type Help struct {
	Following bool // the tapped hand sounded too
	Clicks    bool // on the beats, beyond the count-in
	Line      bool // the staff moved under the line
}

// Unaided reports whether the round was one without help.
func (h Help) Unaided() bool { return !h.Following && !h.Clicks && !h.Line }

// Fill takes what a judgement tells into the record. beat is the felt beat in
// milliseconds.
func (c *Record) Fill(r *tap.Result, beat float64) {
	c.Judged, c.Clean, c.Certain, c.Doubt = true, r.Clean, r.Certain, r.Doubt
	c.Wanted, c.Hit, c.Missed, c.Extra = r.Wanted, r.Hit, r.Missed, r.Extra
	c.MeanMS, c.SpreadMS = r.MeanMS, r.SpreadMS
	c.Answers = r.Answers(beat)
	c.Starts, c.Uneven, c.Findings = nil, nil, nil
	for i := range r.Ornaments {
		o := &r.Ornaments[i]
		if o.Start.Known {
			c.Starts = append(c.Starts, o.Start.V)
		}
		if o.Uneven.Known {
			c.Uneven = append(c.Uneven, o.Uneven.V)
		}
	}
	for _, f := range r.Findings {
		c.Findings = append(c.Findings, f.Code)
	}
}
