package tap

import (
	"math"
)

// Codes of findings, in the order in which they are told: the relation to the
// other hand comes first, then the figure itself, then what follows it.
const (
	CodeTooFew       = "too-few"
	CodeReacting     = "reacting"
	CodeBeforeBeat   = "before-beat"
	CodeLateStart    = "late-start"
	CodeEarlyStart   = "early-start"
	CodeHandWaits    = "hand-waits"
	CodeHandsApart   = "hands-apart"
	CodeNoEnding     = "no-ending"
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
	CodeBump         = "bump"
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
)

// Sizes from which a fault is named. Where no source stands beside a number
// it is ours.
const (
	nameMS      = 40.0  // teaching rule: nothing under 40 ms is marked in words
	nameReact   = 100.0 // late on every beat: reacting
	nameWait    = 0.08  // the clean limit is 5 %, and 2 × 3 % is a hand's own scatter over a beat
	nameLimp    = 0.80  // 0.7 is a clear limp (case J7)
	nameCrowd   = 0.75
	namePace    = 0.82
	nameLast    = 1.35  // 1.5·… : 1/12 1/12 1/6 is 2 (case J4)
	nameAfter   = 0.965 // 6 % over two beats is rushing (case J5); 2.5 % is just noticeable
	nameSpread  = 0.09  // of the beat; untrained tappers keep within 4–6 % (Repp 2005, from memory)
	nameUneven  = 0.35
	driftShare  = 0.02 // ms of drift a ms: a tempo 2 % off
	majority    = 0.6
	wrongWithin = 120.0 // ms between a missed note and its tap by the other hand
)

// pool is one number over several playings.
type pool struct {
	n     int
	mean  float64 // distance from the planned value
	se    float64
	share float64 // of playings that lean the same way by half as much
}

func pooled(rs []*OrnamentResult, get func(*OrnamentResult) Amount, planned, leadSE float64) pool {
	var x []float64
	noise := 0.0
	for _, r := range rs {
		if a := get(r); a.Known {
			x = append(x, a.V-planned)
			noise += a.SE * a.SE
		}
	}
	p := pool{n: len(x), mean: mean(x)}
	if p.n == 0 {
		return p
	}
	n := float64(p.n)
	p.se = math.Hypot(math.Max(math.Sqrt(noise)/n, deviation(x)/math.Sqrt(n)), leadSE)
	for _, v := range x {
		if v*p.mean > 0 && math.Abs(v) > math.Abs(p.mean)/2 {
			p.share += 1 / n
		}
	}
	return p
}

// clear reports whether the pool lies beyond a limit (negative: below it) and
// beyond chance: twice its standard error, more where few playings speak.
func (p pool) clear(limit float64) bool {
	if p.n == 0 || p.mean*limit <= 0 || math.Abs(p.mean) < math.Abs(limit) || p.share < majority {
		return false
	}
	times := 2.0
	switch {
	case p.n == 1:
		times = 3
	case p.n < 4:
		times = 2.5
	}
	return math.Abs(p.mean) >= times*p.se
}

// rule names a fault of a measured amount. Limits are distances from planned.
type rule struct {
	code    string
	get     func(*OrnamentResult) Amount
	planned float64
	limit   float64
	ms      bool // a time, else a ratio
	lead    bool // measured from the lead, so its error counts
	unless  func(*OrnamentResult) bool
}

// rules stand in the order in which they are told.
func rules(beat float64) []rule {
	edge := math.Max(nameMS, cleanBeat*beat)
	inTime := func(r *OrnamentResult) bool { return r.Landing.Known && math.Abs(r.Landing.V) < 0.75*nameMS }
	free := func(r *OrnamentResult) bool { return r.Free }
	start := func(r *OrnamentResult) Amount { return r.Start }
	landing := func(r *OrnamentResult) Amount { return r.Landing }
	limp := func(r *OrnamentResult) Amount { return r.Limp }
	crowd := func(r *OrnamentResult) Amount { return r.Crowd }
	pace := func(r *OrnamentResult) Amount { return r.Pace }
	return []rule{
		{CodeLateStart, start, 0, nameMS, true, true, nil},
		{CodeEarlyStart, start, 0, -nameMS, true, true, nil},
		{CodeHandWaits, func(r *OrnamentResult) Amount { return r.Wait }, 1, nameWait, false, false, nil},
		{CodeTurnTwoQuick, func(r *OrnamentResult) Amount { return r.Last }, 1, nameLast - 1, false, false, nil},
		{CodeTurnEarly, func(r *OrnamentResult) Amount { return r.Held }, 0, -edge, true, false, nil},
		{CodeLimps, limp, 1, nameLimp - 1, false, false, nil},
		{CodeLimpsLower, limp, 1, 1/nameLimp - 1, false, false, nil},
		// A free trill may well grow or calm down: only its edges count.
		{CodeCrowdedFront, crowd, 1, nameCrowd - 1, false, false, free},
		{CodeCrowdedBack, crowd, 1, 1/nameCrowd - 1, false, false, free},
		{CodeRushed, pace, 1, namePace - 1, false, false, free},
		{CodeBump, func(r *OrnamentResult) Amount { return r.Bump }, 0, edge, true, false, inTime},
		{CodeDragged, pace, 1, 1/namePace - 1, false, false, free},
		{CodeLandsLate, landing, 0, edge, true, true, nil},
		{CodeLandsEarly, landing, 0, -edge, true, true, nil},
		{CodeRushesAfter, func(r *OrnamentResult) Amount { return r.After }, 1, nameAfter - 1, false, false, nil},
		{CodeSlowsAfter, func(r *OrnamentResult) Amount { return r.After }, 1, 1/nameAfter - 1, false, false, nil},
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
}

// ornamentFaults looks at all playings together, then at each ornament by
// itself for what only one of them shows.
func ornamentFaults(all []*OrnamentResult, leadSE, beat float64) []fault {
	var faults []fault
	named := map[string]bool{}
	seek := func(rs []*OrnamentResult, id string) {
		for _, f := range countFaults(rs) {
			if !named[f.code] {
				named[f.code] = true
				f.ornament = id
				faults = append(faults, f)
			}
		}
		for _, u := range rules(beat) {
			if named[u.code] || u.code == CodeRushed && named[CodeTurnTwoQuick] {
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
			p := pooled(apply, u.get, u.planned, se)
			if p.clear(u.limit) && 2*len(apply) >= len(rs) {
				named[u.code] = true
				faults = append(faults, fault{code: u.code, size: p.mean, ms: u.ms, ornament: id, about: apply})
			}
		}
	}
	seek(all, "")
	byID := map[string][]*OrnamentResult{}
	var ids []string
	for _, r := range all {
		if byID[r.Ornament] == nil {
			ids = append(ids, r.Ornament)
		}
		byID[r.Ornament] = append(byID[r.Ornament], r)
	}
	if len(ids) > 1 {
		for _, id := range ids {
			seek(byID[id], id)
		}
	}
	return faults
}

// countFaults looks for what most playings share in the number of notes.
func countFaults(rs []*OrnamentResult) []fault {
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
	share(CodeBeforeBeat, func(r *OrnamentResult) bool { return r.BeforeBeat })
	share(CodeNoEnding, func(r *OrnamentResult) bool { return r.NoEnding })
	share(CodeFewerNotes, func(r *OrnamentResult) bool {
		return !r.Free && !r.NoEnding && !r.BeforeBeat && r.Tapped >= 2 && r.Wanted-r.Tapped >= 2
	})
	share(CodeMoreNotes, func(r *OrnamentResult) bool { return !r.Free && r.Tapped-r.Wanted >= 2 })
	share(CodeCount, func(r *OrnamentResult) bool {
		return r.Free && !r.NoEnding && r.Tapped >= 2 && r.Tapped != r.Wanted
	})
	return faults
}
