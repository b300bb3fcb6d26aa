package tap

import (
	"math"
	"slices"

	"agremens/realize/perf"
	"agremens/realize/sorting"
)

// order is the place of each code in what is told. The first fault makes the
// summary.
var order = []string{
	CodeBroken, CodeUntapped, CodeHardly, CodeTooFew, CodeReacting, CodeDrift, CodeUnsteady, CodeBeforeBeat, CodeTurnTwoQuick, CodeTurnEarly, CodeNoEnding, CodeShort, CodeFewerNotes, CodeMoreNotes,
	CodeHandWaits, CodeWrongHand, CodeLateStart, CodeEarlyStart, CodeHandsApart, CodeLimps, CodeLimpsLower,
	CodeCrowdedFront, CodeCrowdedBack, CodeRushed, CodeLeanShort, CodeLeanLong, CodeLetsGo, CodeLateAfter, CodeBump, CodeDragged, CodeLandsLate, CodeLandsEarly,
	CodeRushesAfter, CodeSlowsAfter, CodeSwapped, CodeOtherKeys, CodeMissed, CodeExtra, CodeUneven,
	CodeFewPlain, CodeClean, CodeNearly, CodeCount, CodeTied, CodeLead,
}

// Codes returns every code a finding can have, in the order in which they are told.
func Codes() []string { return append(slices.Clone(order), CodeTired) }

// speak turns what was measured into findings, one sentence and one step.
func (r *Result) speak(sides [2]*side, want []Want, o Options) {
	var all []*OrnamentResult
	for k := range r.Ornaments {
		all = append(all, &r.Ornaments[k])
	}
	var faults []fault
	if len(all) > 0 {
		faults = ornamentFaults(all, r.Lead.SE, o.BeatMS)
	}
	faults = append(faults, r.roundFaults(sides, o.BeatMS)...)
	switch {
	case r.Hit < certainLeast:
		faults = append(faults, fault{code: CodeTooFew, remark: true, count: [2]int{r.Hit, r.Wanted}})
	case len(all) > 0 && !r.Lead.Known():
		faults = append(faults, fault{code: CodeFewPlain, remark: true, about: all})
	}
	if slices.ContainsFunc(want, func(w Want) bool { return w.Tied && w.Index == 0 && w.Ornament != "" }) {
		faults = append(faults, fault{code: CodeTied, remark: true})
	}
	faults = explain(faults, o.BeatMS)
	sorting.Stable(faults, func(a, b fault) int {
		return slices.Index(order, a.code) - slices.Index(order, b.code)
	})
	if r.Hit >= certainLeast && !slices.ContainsFunc(faults, func(f fault) bool { return !f.remark || f.code == CodeFewPlain }) {
		f := fault{code: CodeClean, remark: true}
		if q, well := r.worst(o.BeatMS); !well {
			f.code, f.answer = CodeNearly, o.said.Answer(q, r.Answers(o.BeatMS)[q])
		}
		faults = append([]fault{f}, faults...)
	}
	r.Doubt = o.said.doubt(r, len(all) > 0)
	quarter := quarterOf(want)
	for _, f := range faults {
		r.Findings = append(r.Findings, o.said.finding(f, r, o, quarter))
	}
	r.Summary, r.Next = o.said.summary(r.Findings, o)
}

// explain drops what another fault already says: an ending left out is not
// also a missed note, and a trill that starts late need not be told to land late.
func explain(faults []fault, beat float64) []fault {
	causes := map[string][]string{
		CodeLeanShort:    {CodeBump, CodeLetsGo},
		CodeLeanLong:     {CodeLandsLate},
		CodeBeforeBeat:   {CodeLeanShort, CodeLeanLong, CodeLetsGo, CodeEarlyStart, CodeLateStart, CodeMissed, CodeExtra, CodeBump, CodeRushed, CodeDragged, CodeLandsEarly, CodeCrowdedFront, CodeCrowdedBack, CodeLimps, CodeLimpsLower, CodeFewerNotes, CodeMoreNotes, CodeUneven, CodeHandsApart, CodeUnsteady},
		CodeTurnTwoQuick: {CodeRushed, CodeCrowdedFront, CodeCrowdedBack, CodeUneven, CodeBump, CodeLimps, CodeLimpsLower},
		CodeTurnEarly:    {CodeBump, CodeUneven},
		CodeNoEnding:     {CodeMissed, CodeFewerNotes, CodeBump},
		CodeFewerNotes:   {CodeMissed, CodeBump, CodeUneven},
		CodeShort:        {CodeMissed, CodeBump, CodeUneven, CodeLeanShort, CodeLeanLong},
		CodeMoreNotes:    {CodeExtra, CodeMissed, CodeUneven},
		CodeHandWaits:    {CodeBump, CodeLandsLate, CodeDragged, CodeRushesAfter, CodeSlowsAfter, CodeHandsApart},
		CodeLateAfter:    {CodeBump, CodeLandsLate, CodeSlowsAfter, CodeRushesAfter, CodeHandsApart, CodeUnsteady, CodeReacting},
		CodeLateStart:    {CodeLateAfter, CodeLeanShort, CodeRushed, CodeLandsLate, CodeRushesAfter, CodeSlowsAfter},
		CodeEarlyStart:   {CodeLeanLong, CodeDragged, CodeLandsEarly, CodeSlowsAfter, CodeRushesAfter},
		CodeLimps:        {CodeUneven},
		CodeLimpsLower:   {CodeUneven},
		CodeCrowdedFront: {CodeUneven, CodeRushed, CodeBump},
		CodeCrowdedBack:  {CodeUneven, CodeDragged},
		CodeBump:         {CodeLandsLate, CodeRushesAfter, CodeHandsApart},
		CodeDragged:      {CodeLateAfter, CodeLandsLate, CodeBump, CodeRushesAfter},
		CodeRushed:       {CodeLandsEarly, CodeSlowsAfter, CodeBump},
		CodeLandsLate:    {CodeRushesAfter},
		CodeLandsEarly:   {CodeSlowsAfter},
		CodeWrongHand:    {CodeMissed, CodeExtra},
		CodeSwapped:      {CodeOtherKeys},
		CodeReacting:     {CodeLead, CodeDrift},
		CodeDrift:        {CodeRushesAfter, CodeSlowsAfter, CodeLead},
		CodeRushesAfter:  {CodeHandsApart},
		CodeSlowsAfter:   {CodeHandsApart},
		CodeTooFew:       {CodeUnsteady},
	}
	said := map[string]bool{}
	for _, f := range faults {
		if f.code != CodeRushesAfter {
			continue
		}
		// Notes that run ahead pull the lead with them, and what is in time
		// looks late by up to what they gain in two beats.
		gain := 2 * beat * math.Abs(f.size)
		for _, g := range faults {
			if (g.code == CodeLandsLate || g.code == CodeLateStart) && g.size < gain {
				said[g.code] = true
			}
		}
	}
	for _, f := range faults {
		if f.code != CodeUneven {
			continue
		}
		// Of notes played at random two may fall together: here and there one
		// is lacking.
		for _, g := range faults {
			if g.code == CodeMissed && 2*g.count[0] <= len(f.about) {
				said[g.code] = true
			}
		}
	}
	for _, f := range faults {
		if said[f.code] {
			continue
		}
		for _, c := range causes[f.code] {
			said[c] = true
		}
	}
	return slices.DeleteFunc(faults, func(f fault) bool { return said[f.code] })
}

// roundFaults looks at the round as a whole.
func (r *Result) roundFaults(sides [2]*side, beat float64) []fault {
	var faults []fault
	lead := r.Lead
	if lead.From == "plain" {
		switch {
		case math.Abs(lead.Drift) > driftShare*second:
			faults = append(faults, fault{code: CodeDrift, size: lead.Drift / second})
		case lead.MS > nameReact:
			faults = append(faults, fault{code: CodeReacting, size: lead.MS, ms: true})
		case math.Abs(lead.MS) >= 10 && math.Abs(lead.MS) > 2*lead.SE:
			faults = append(faults, fault{code: CodeLead, size: lead.MS, ms: true, remark: true})
		}
	}
	if jitter, n := jitterOf(sides); n > 0 && jitter > math.Max(nameMS, nameSpread*beat)*(1+0.8/math.Sqrt(n)) {
		faults = append(faults, fault{code: CodeUnsteady, size: jitter, ms: true})
	}
	t := r.Together
	if t.N >= leadLeast && math.Abs(t.MeanMS) >= nameMS && math.Abs(t.MeanMS) > (errorsAll+errorsPlain)*t.SpreadMS/math.Sqrt(float64(t.N)) {
		faults = append(faults, fault{code: CodeHandsApart, size: t.MeanMS, ms: true})
	}
	if n := wrongHands(sides); n > 0 {
		faults = append(faults, fault{code: CodeWrongHand, count: [2]int{n, 0}})
	}
	if r.WrongKeys > 0 {
		faults = append(faults, fault{code: CodeOtherKeys, count: [2]int{r.WrongKeys, 0}})
		if r.swapped > 0 {
			faults = append(faults, fault{code: CodeSwapped, count: [2]int{r.swapped, 0}})
		}
	}
	if r.Missed > 0 {
		faults = append(faults, fault{code: CodeMissed, count: [2]int{r.Missed, r.Wanted}})
	}
	if r.Extra > 0 {
		faults = append(faults, fault{code: CodeExtra, count: [2]int{r.Extra, r.Wanted}})
	}
	var uneven []float64
	var about []*OrnamentResult
	for k := range r.Ornaments {
		if p := &r.Ornaments[k]; p.Uneven.Known {
			uneven, about = append(uneven, p.Uneven.V), append(about, p)
		}
	}
	if len(uneven) >= 2 && median(uneven) > nameUneven {
		faults = append(faults, fault{code: CodeUneven, size: median(uneven), about: about})
	}
	return faults
}

// jitterOf returns how far plain notes scatter, ms, over the hands that tapped
// enough of them, and how many these are.
func jitterOf(sides [2]*side) (jitter, n float64) {
	sum := 0.0
	for _, s := range sides {
		if s.lead.From == "plain" || s.lead.From == "ornaments" {
			weight := float64(s.lead.N)
			sum, n = sum+weight*s.jitter*s.jitter, n+weight
		}
	}
	return math.Sqrt(sum / math.Max(n, 1)), n
}

// wrongHands counts notes that one hand missed and the other tapped.
func wrongHands(sides [2]*side) int {
	n := 0
	for h, s := range sides {
		other := sides[1-h]
		taken := map[int]bool{}
		for i, o := range s.onsets {
			if s.hit[i] >= 0 {
				continue
			}
			at := o.At + other.lead.at(o.At)
			for j, t := range other.strokes {
				if other.of[j] < 0 && !taken[j] && math.Abs(t.at-at) < math.Min(wrongWithin, math.Min(o.early, o.late)) {
					taken[j] = true
					n++
					break
				}
			}
		}
	}
	return n
}

// hand returns the hand that plays most of the ornaments in question.
func (f fault) hand(r *Result) perf.Hand {
	n := [2]int{}
	for _, p := range f.about {
		n[p.Hand]++
	}
	if len(f.about) == 0 {
		return r.Lead.Hand
	}
	if n[perf.Left] > n[perf.Right] {
		return perf.Left
	}
	return perf.Right
}
