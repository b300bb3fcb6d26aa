package round

import "agremens/realize/tap"

// EveryKey adds the further keys of chords to a plan's wants, or to those of
// several passes of it.
func (p *Plan) EveryKey(wants []tap.Want) []tap.Want {
	if len(p.Also) == 0 {
		return wants
	}
	var out []tap.Want
	for i, w := range wants {
		out = append(out, w)
		for _, key := range p.Also[Struck{p.Frames[i%len(p.Frames)], w.Hand}] {
			also := w
			also.Key, also.Until = key, 0
			out = append(out, also)
		}
	}
	return out
}

// Heard returns a finished round of what was played without the program's
// sound: wants with the times at which they were due, and the keys struck, on
// one clock. Its plan has the tempo that was played. alone says that one hand
// played.
func Heard(p *Plan, wants []tap.Want, taps []tap.Tap, alone bool) *Round {
	own := *p
	own.Alone = alone
	if n := len(wants); n > 1 {
		first, last := wants[0], wants[n-1]
		planned := p.ms(p.frame(last.Onset) - p.frame(first.Onset))
		if slower := (last.At - first.At) / planned; planned > 0 && slower > 0 {
			own.BeatMS *= slower
			own.tempo = own.tempo.Scaled(1 / slower)
		}
	}
	r := &Round{plan: &own, state: Result, wants: wants, made: taps}
	r.judge()
	return r
}

func (r *Round) judge() {
	result := tap.Judge(r.wants, r.made, tap.Options{
		Lead: r.lead, BeatMS: r.plan.BeatMS, Gaps: r.doubtful, Alone: r.plan.Alone, Voice: r.plan.Settings.Voice, Words: r.plan.Settings.Words,
	})
	r.result = &result
}
