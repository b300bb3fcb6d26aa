package practice

import (
	"slices"
	"sort"
	"strconv"

	"agremens/realize/tap"
)

//words:texts
const onceMoreRound = "Once more round the group"

// passed tells a group what to work on together: what most of them share
// comes first. Nobody's result stands above another's.
func (s *Session) passed(o *Outcome) {
	type common struct {
		say, next string
		code      string
		n         int
	}
	found := map[string]*common{}
	players, certain := 0, 0
	spoilt := 0 // rounds that do not count
	var why []string
	w := tap.WordsIn(s.words())
	for _, d := range s.done {
		r := d.result()
		if r == nil {
			continue
		}
		players++
		o.Records = append(o.Records, s.record(d, r))
		if r.Certain {
			certain++
		}
		if r.Spoilt != "" {
			spoilt++
			if !slices.Contains(why, r.Summary) {
				why = append(why, r.Summary)
			}
			continue
		}
		if len(r.Findings) > 0 && r.Findings[0].Code == tap.CodeTooFew {
			continue // what is missing then is no fault to work on
		}
		for _, f := range r.Findings {
			if !f.Fault {
				continue
			}
			if found[f.Code] == nil {
				found[f.Code] = &common{say: f.Child, next: f.Next, code: f.Code}
			}
			found[f.Code].n++
			break // one thing each
		}
	}
	if players == 0 {
		return
	}
	var all []*common
	for _, c := range found {
		all = append(all, c)
	}
	sort.Slice(all, func(i, j int) bool {
		return all[i].n > all[j].n || all[i].n == all[j].n && all[i].code < all[j].code
	})
	o.Words.Figures = s.words().Count(players, "{n} player, one round.", "{n} players, one round each.")
	// Whose rounds did not count is nobody's business but their own.
	o.Words.Notes = why
	switch {
	case len(all) > 0:
	case spoilt == players:
		o.Words.Summary = s.say("No round counts this time.")
		o.Next = s.to(Next{"", 1, onceMoreRound})
		return
	case certain == 0:
		o.Words.Summary = s.say("Too few taps to say. Once more round the group, with more bars?")
		o.Next = s.to(Next{"", 1, onceMoreRound})
		return
	case certain < players:
		o.Words.Summary = s.say("{n} of {all} players could be heard: they started on the beat and landed in time.", "{n}", strconv.Itoa(certain), "{all}", strconv.Itoa(players))
		o.Next = s.to(Next{"", 1, onceMoreRound})
		return
	default:
		o.Words.Summary = s.say("Everybody started on the beat and landed in time.")
		o.Words.Next = w.Piano
		o.Next = s.to(Next{Piano, 1, ""})
		return
	}
	o.Words.Summary = s.say("What we work on together: {finding}", "{finding}", all[0].say)
	o.Words.Next = all[0].next
	for _, c := range all[1:] {
		o.Words.Notes = append(o.Words.Notes, s.say("And: {finding}", "{finding}", c.say))
	}
	n := steps[all[0].code]
	if n.Kind == "" {
		n.Kind = Tap
	}
	o.Next = s.to(n)
}
