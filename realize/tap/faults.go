package tap

import (
	"math"
	"slices"
)

// Codes of findings, in the order in which they are told: the relation to the
// other hand comes first, then the figure itself, then what follows it.
const (
	CodeTooFew       = "too-few"
	CodeFewPlain     = "few-plain" // too few plain notes to compare a start with
	CodeReacting     = "reacting"
	CodeBeforeBeat   = "before-beat"
	CodeLateStart    = "late-start"
	CodeEarlyStart   = "early-start"
	CodeHandWaits    = "hand-waits"
	CodeHandsApart   = "hands-apart"
	CodeNoEnding     = "no-ending"
	CodeShort        = "short-of-notes" // of a figure that has one number of notes
	CodeFewerNotes   = "fewer-notes"
	CodeMoreNotes    = "more-notes"
	CodeTurnEarly    = "turn-early"
	CodeTurnTwoQuick = "turn-two-quick"
	CodeLimps        = "limps"
	CodeLimpsLower   = "limps-lower"
	CodeCrowdedFront = "crowded-front"
	CodeCrowdedBack  = "crowded-back"
	CodeRushed       = "rushed"
	CodeDragged      = "dragged"
	CodeLeanShort    = "leans-short"
	CodeLeanLong     = "leans-long"
	CodeLetsGo       = "lets-go"
	CodeBump         = "bump"
	CodeLateAfter    = "late-after" // in time itself, but all that follows is late
	CodeLandsLate    = "lands-late"
	CodeLandsEarly   = "lands-early"
	CodeRushesAfter  = "rushes-after"
	CodeSlowsAfter   = "slows-after"
	CodeDrift        = "drift"
	CodeWrongHand    = "other-hand"
	CodeSwapped      = "swapped"
	CodeOtherKeys    = "other-keys"
	CodeMissed       = "missed"
	CodeExtra        = "extra"
	CodeUneven       = "uneven"
	CodeUnsteady     = "unsteady"
	CodeLead         = "lead"
	CodeCount        = "count"
	CodeTied         = "tied-start"
	CodeClean        = "clean"
	CodeNearly       = "nearly" // no fault is clear, but an answer is not a clean round's
	CodeTired        = "tired"  // told by a climb, not by a single round
)

// Sizes from which a fault is named. Where no source stands beside a number
// it is ours.
const (
	nameMS      = 40.0  // teaching rule: nothing under 40 ms is marked in words
	nameReact   = 100.0 // late on every beat: reacting
	nameWait    = 1.08  // the clean limit is 5 %, and 2 × 3 % is a hand's own scatter over a beat
	nameLimp    = 0.80  // 0.7 is a clear limp (case J7)
	nameCrowd   = 0.75
	namePace    = 0.82
	nameLast    = 1.35  // 1.5·… : 1/12 1/12 1/6 is 2 (case J4)
	nameAfter   = 0.965 // 6 % over two beats is rushing (case J5); 2.5 % is just noticeable
	usualSpread = 0.05  // of the beat, untrained (Repp 2005, from memory)
	nameSpread  = 0.092 // of the beat, where many notes show it; untrained tappers keep within 4–6 % (Repp 2005, from memory)
	nameUneven  = 0.35
	driftShare  = 0.02  // ms of drift a ms: a tempo 2 % off
	nameRelease = 100.0 // keys let go by so much: a hand's touch varies more than its onsets
	majority    = 0.6
	wrongWithin = 120.0 // ms between a missed note and its tap by the other hand
)

// pool is one number over several playings.
type pool struct {
	n     int
	mean  float64 // ms, or the logarithm of a ratio
	se    float64
	share float64 // of playings that lean the same way by half as much
}

// priorNotes is how many playings the scatter expected of a player weighs
// beside the scatter that these show among themselves: four playings show it badly.
const priorNotes = 6

// pooled averages an amount over playings. Ratios are averaged as logarithms,
// so that a half and a double balance.
func pooled(rs []*OrnamentResult, get func(*OrnamentResult) Amount, ratio bool, leadSE float64) pool {
	var x []float64
	noise := 0.0
	for _, r := range rs {
		a := get(r)
		if !a.Known {
			continue
		}
		if ratio {
			a.V = math.Log(math.Max(0.05, a.V))
		}
		x = append(x, a.V)
		noise += a.SE * a.SE
	}
	p := pool{n: len(x), mean: mean(x)}
	if p.n == 0 {
		return p
	}
	n := float64(p.n)
	d := deviation(x)
	p.se = math.Hypot(math.Sqrt((priorNotes*noise/n+(n-1)*d*d)/(priorNotes+n-1)/n), leadSE)
	for _, v := range x {
		if v*p.mean > 0 && math.Abs(v) > math.Abs(p.mean)/2 {
			p.share += 1 / n
		}
	}
	return p
}

// How many standard errors a pool must lie from 0. Twice would do for one
// question; some twenty are asked of every round, and of a hundred rounds
// without a fault at most one is to be blamed.
const (
	errorsAll  = 3.7
	errorsFew  = 4.0 // fewer than four playings
	errorsSole = 4.2 // one playing, the only one
	errorsOne  = 5.2 // one place of several, looked at by itself
	// More where a fault, when it is there, lies far beyond chance: the landing,
	// the hands apart and notes that crowd lose nothing by it.
	errorsPlain = 0.5
	// Fewer for a limp: the smallest that is named lies nearest to chance.
	errorsLimp = -0.4
)

// clear reports whether the pool lies beyond a limit (negative: below it) and
// beyond chance.
func (p pool) clear(limit float64, one bool, more float64) bool {
	if p.n == 0 || p.mean*limit <= 0 || math.Abs(p.mean) < math.Abs(limit) || p.share < majority {
		return false
	}
	times := errorsAll
	switch {
	case one:
		times = errorsOne
	case p.n == 1:
		times = errorsSole
	case p.n < 4:
		times = errorsFew
	}
	return math.Abs(p.mean) >= (times+more)*p.se
}

// rule names a fault of a measured amount: a time beyond a limit, or a ratio
// beyond one (under 1: below it).
type rule struct {
	code   string
	get    func(*OrnamentResult) Amount
	limit  float64
	ratio  bool
	lead   bool    // measured from the lead, so its error counts
	more   float64 // standard errors beyond the usual
	unless func(*OrnamentResult) bool
	when   func([]*OrnamentResult) bool
}

func (u rule) bound() float64 {
	if u.ratio {
		return math.Log(u.limit)
	}
	return u.limit
}

// rules stand in the order in which they are told.
func rules(beat float64) []rule {
	edge := cleanLimit(beat)
	inTime := func(r *OrnamentResult) bool { return r.Landing.Known && math.Abs(r.Landing.V) < 0.75*nameMS }
	free := func(r *OrnamentResult) bool { return r.Free || r.Wanted == 2 }
	early := func(r *OrnamentResult) bool { return r.Held.Known && r.Held.V < -edge/2 }
	start := func(r *OrnamentResult) Amount { return r.Start }
	own := func(r *OrnamentResult) Amount { return r.own }
	together := func(r *OrnamentResult) bool { return math.Abs(r.Start.V) < nameMS/2 || r.Start.V*r.own.V < 0 }
	landing := func(r *OrnamentResult) Amount { return r.Landing }
	// In time itself, and everything after it late, not the exit alone.
	stays := func(rs []*OrnamentResult) bool {
		middle := func(get func(*OrnamentResult) Amount) float64 { return pooled(rs, get, false, 0).mean }
		return math.Abs(middle(start)) <= edge && middle(landing) >= 0.75*edge &&
			middle(func(r *OrnamentResult) Amount { return r.still }) >= 0.75*edge
	}
	wait := func(r *OrnamentResult) Amount { return r.Wait }
	last := func(r *OrnamentResult) Amount { return r.Last }
	held := func(r *OrnamentResult) Amount { return r.Held }
	limp := func(r *OrnamentResult) Amount { return r.Limp }
	crowd := func(r *OrnamentResult) Amount { return r.Crowd }
	pace := func(r *OrnamentResult) Amount { return r.Pace }
	bump := func(r *OrnamentResult) Amount { return r.Bump }
	after := func(r *OrnamentResult) Amount { return r.After }
	lean := func(r *OrnamentResult) Amount { return r.Lean }
	behind := func(r *OrnamentResult) Amount { return r.Behind }
	release := func(r *OrnamentResult) Amount { return r.Release }
	return []rule{
		{code: CodeLateStart, get: start, limit: nameMS, lead: true},
		{code: CodeEarlyStart, get: start, limit: -nameMS, lead: true},
		// The other hand scatters too: its own lead is the surer measure, where
		// the two do not disagree.
		{code: CodeLateStart, get: own, limit: nameMS, lead: true, unless: together},
		{code: CodeEarlyStart, get: own, limit: -nameMS, lead: true, unless: together},
		{code: CodeHandWaits, get: wait, limit: nameWait, ratio: true},
		{code: CodeTurnTwoQuick, get: last, limit: nameLast, ratio: true, unless: early},
		{code: CodeTurnEarly, get: held, limit: -edge},
		{code: CodeLimps, get: limp, limit: nameLimp, ratio: true, more: errorsLimp},
		{code: CodeLimpsLower, get: limp, limit: 1 / nameLimp, ratio: true, more: errorsLimp},
		// A free trill may well grow or calm down: only its edges count. A single
		// appoggiatura has words of its own.
		{code: CodeCrowdedFront, get: crowd, more: errorsPlain, limit: nameCrowd, ratio: true, unless: free},
		{code: CodeCrowdedBack, get: crowd, more: errorsPlain, limit: 1 / nameCrowd, ratio: true, unless: free},
		{code: CodeRushed, get: pace, limit: namePace, ratio: true, unless: free},
		{code: CodeLeanShort, get: lean, limit: -edge},
		{code: CodeLeanLong, get: lean, limit: edge},
		{code: CodeLetsGo, get: release, limit: -nameRelease},
		{code: CodeBump, get: bump, limit: edge, unless: inTime},
		{code: CodeDragged, get: pace, limit: 1 / namePace, ratio: true, unless: free},
		{code: CodeLateAfter, get: behind, limit: edge, when: stays},
		{code: CodeLandsLate, get: landing, more: errorsPlain, limit: edge, lead: true},
		{code: CodeLandsEarly, get: landing, more: errorsPlain, limit: -edge, lead: true},
		{code: CodeRushesAfter, get: after, limit: nameAfter, ratio: true},
		{code: CodeSlowsAfter, get: after, limit: 1 / nameAfter, ratio: true},
	}
}

// fault is a finding before it has words.
type fault struct {
	code     string
	size     float64 // ms, or a ratio's distance from 1
	ms       bool
	ornament string // id where it holds for one only
	about    []*OrnamentResult
	count    [2]int // tapped, planned
	remark   bool
	answer   string // of [CodeNearly]: what was measured
}

// ornamentFaults looks at all playings together, then at each ornament by
// itself for what only one of them shows.
func ornamentFaults(all []*OrnamentResult, leadSE, beat float64) []fault {
	var faults []fault
	named := map[string]bool{}
	seek := func(rs []*OrnamentResult, id string, others func(u rule) float64) {
		for _, f := range countFaults(rs, id, leadSE) {
			// One playing that lacks two notes is no other fault than all that do.
			if !named[f.code] && !(f.code == CodeNoEnding && named[CodeFewerNotes]) {
				named[f.code] = true
				f.ornament = id
				faults = append(faults, f)
			}
		}
		for _, u := range rules(beat) {
			if named[u.code] || u.code == CodeRushed && named[CodeTurnTwoQuick] || u.code == CodeLateAfter && id != "" && named[CodeBump] || u.when != nil && !u.when(rs) {
				continue
			}
			var apply []*OrnamentResult
			for _, r := range rs {
				if u.unless == nil || !u.unless(r) {
					apply = append(apply, r)
				}
			}
			se := 0.0
			if u.lead {
				se = leadSE
			}
			p := pooled(apply, u.get, u.ratio, se)
			p.se = math.Max(p.se, others(u)/math.Sqrt(float64(max(1, p.n))))
			if !p.clear(u.bound(), id != "", u.more) || 2*len(apply) < len(rs) {
				continue
			}
			named[u.code] = true
			f := fault{code: u.code, size: p.mean, ms: !u.ratio, ornament: id, about: apply}
			if u.ratio {
				f.size = math.Exp(p.mean) - 1
			}
			faults = append(faults, f)
		}
	}
	seek(all, "", func(rule) float64 { return 0 })
	// The written note tells repeats of one ornament, whatever their ids.
	type place struct{ note, id string }
	at := map[place][]*OrnamentResult{}
	var places []place
	for _, r := range all {
		p := place{note: string(r.Note)}
		if r.Note == "" {
			p.id = r.Ornament
		}
		if at[p] == nil {
			places = append(places, p)
		}
		at[p] = append(at[p], r)
	}
	if len(places) > 1 {
		for _, p := range places {
			seek(at[p], at[p][0].Ornament, func(u rule) float64 { return scatterOf(all, at[p], u) })
		}
	}
	return faults
}

// scatterOf returns how far a rule's amount scatters from playing to playing
// elsewhere than at one place: a place by itself stands out only beyond that.
func scatterOf(all, place []*OrnamentResult, u rule) float64 {
	var x []float64
	for _, r := range all {
		a := u.get(r)
		if !a.Known || slices.Contains(place, r) {
			continue
		}
		if u.ratio {
			a.V = math.Log(math.Max(0.05, a.V))
		}
		x = append(x, a.V)
	}
	if len(x) < 3 {
		return 0
	}
	return robustDeviation(x)
}

// countFaults looks for what most playings share in the number of notes; id is
// the ornament they are all of, "" where they are of all.
func countFaults(rs []*OrnamentResult, id string, leadSE float64) []fault {
	var faults []fault
	share := func(code string, holds func(*OrnamentResult) bool) {
		var about []*OrnamentResult
		for _, r := range rs {
			if holds(r) {
				about = append(about, r)
			}
		}
		if len(about) == 0 || float64(len(about)) < majority*float64(len(rs)) {
			return
		}
		f := fault{code: code, about: about, count: [2]int{about[0].Tapped, about[0].Wanted}}
		f.remark = code == CodeCount
		faults = append(faults, f)
	}
	if endsEarly(rs, leadSE) {
		share(CodeBeforeBeat, func(r *OrnamentResult) bool { return r.BeforeBeat })
	}
	share(CodeNoEnding, func(r *OrnamentResult) bool { return r.NoEnding })
	// One note left out once is a slip; it takes all, or a place that comes again.
	share(CodeShort, func(r *OrnamentResult) bool {
		return (id == "" || len(rs) > 1) && r.fixed && !r.BeforeBeat && r.Tapped >= 1 && r.Tapped < r.Wanted
	})
	share(CodeFewerNotes, func(r *OrnamentResult) bool {
		return !r.fixed && !r.Free && !r.NoEnding && !r.BeforeBeat && r.Tapped >= 2 && r.Wanted-r.Tapped >= 2
	})
	share(CodeMoreNotes, func(r *OrnamentResult) bool { return !r.Free && r.Tapped-r.Wanted >= 2 })
	share(CodeCount, func(r *OrnamentResult) bool {
		return r.Free && !r.NoEnding && r.Tapped >= 2 && r.Tapped != r.Wanted
	})
	return faults
}

// endsEarly reports whether the last notes come early beyond chance: beyond
// what the player's plain notes let expect, or, where a stumble among these
// makes anything look possible, beyond what these ends show among themselves.
func endsEarly(rs []*OrnamentResult, leadSE float64) bool {
	end := func(r *OrnamentResult) Amount { return r.end }
	if pooled(rs, end, false, leadSE).clear(-nameMS, false, 0) {
		return true
	}
	var ends []float64
	for _, r := range rs {
		if r.end.Known {
			ends = append(ends, r.end.V)
		}
	}
	if len(ends) < 4 {
		return false
	}
	middle := median(ends)
	// A median is a quarter less sharp than a mean.
	se := math.Hypot(1.25*robustDeviation(ends)/math.Sqrt(float64(len(ends))), leadSE)
	return middle <= -nameMS && -middle >= errorsAll*se
}
