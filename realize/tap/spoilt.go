package tap

// Codes of rounds that do not count: no verdict on the playing is given, and
// they belong in no log, report or comparison.
const (
	CodeBroken   = "broken-off" // the sound or its clock broke off on the way
	CodeUntapped = "untapped"   // nothing was tapped
	CodeHardly   = "hardly-tapped"
)

// spoilt returns the code of why the round does not count, "" where it does.
// Sound that breaks off spoils the round whether or not a note stood there:
// nobody plays on unmoved.
func (r *Result) spoilt(want []Want, taps []Tap, gaps []Span) string {
	switch {
	case during(want, gaps):
		return CodeBroken
	case r.Wanted > 0 && len(taps) == 0:
		return CodeUntapped
	case 2*r.Hit < r.Wanted:
		return CodeHardly
	}
	return ""
}

// during reports whether a gap lies in the time of the round: between its
// first and last onset, and as far around them as a tap may stand. The clock
// remembers gaps of rounds before and of the count-in, which spoil nothing.
func during(want []Want, gaps []Span) bool {
	round, any := Span{}, false
	for _, w := range want {
		if !finite(w.At) {
			continue
		}
		if !any {
			round, any = Span{w.At, w.At}, true
		}
		round.From, round.To = min(round.From, w.At), max(round.To, w.At)
	}
	for _, g := range gaps {
		if any && g.To >= round.From-reachLeast && g.From <= round.To+reachLeast {
			return true
		}
	}
	return false
}

// withhold takes the musical verdict out of a round that does not count and
// leaves the reason.
func (r *Result) withhold(o Options) {
	r.Ornaments, r.Together, r.Clean, r.Certain = nil, Together{}, false, false
	f := fault{code: r.Spoilt, remark: true, count: [2]int{r.Hit, r.Wanted}}
	r.Findings = []Finding{o.said.finding(f, r, o, 0)}
	r.Summary, r.Next = o.said.summary(r.Findings, o)
	r.Doubt = r.Findings[0].Teacher
}
