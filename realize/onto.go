package realize

import (
	"maps"
	"slices"
)

// Onto carries the decisions that were made between before and t over to
// stored, which somebody else has changed meanwhile, as in another window.
// What both have decided for one place is as in t.
func (t Taste) Onto(before, stored Taste) Taste {
	out := t
	out.Tradition = carried(before.Tradition, t.Tradition, stored.Tradition)
	out.Prefer = carried(before.Prefer, t.Prefer, stored.Prefer)
	out.Tempo = carried(before.Tempo, t.Tempo, stored.Tempo)
	out.Rate = carried(before.Rate, t.Rate, stored.Rate)
	out.Reach = carried(before.Reach, t.Reach, stored.Reach)
	same := func(a, b string) bool { return a == b }
	out.Chosen = carriedMap(before.Chosen, t.Chosen, stored.Chosen, same)
	out.Passes = carriedMap(before.Passes, t.Passes, stored.Passes, same)
	out.Standing = carriedMap(before.Standing, t.Standing, stored.Standing, same)
	out.Own = carriedMap(before.Own, t.Own, stored.Own, func(a, b Own) bool { return a.Text() == b.Text() })
	out.Fingers = carriedMap(before.Fingers, t.Fingers, stored.Fingers, func(a, b Fingers) bool {
		return a.Key == b.Key && slices.Equal(a.Fingers, b.Fingers)
	})
	return out
}

// carried is mine where I changed it, else what is stored.
func carried[V comparable](before, mine, stored V) V {
	if mine != before {
		return mine
	}
	return stored
}

func carriedMap[K comparable, V any](before, mine, stored map[K]V, same func(a, b V) bool) map[K]V {
	out := maps.Clone(stored)
	for k := range before {
		if _, kept := mine[k]; !kept {
			delete(out, k)
		}
	}
	for k, v := range mine {
		if old, known := before[k]; known && same(old, v) {
			continue
		}
		if out == nil {
			out = map[K]V{}
		}
		out[k] = v
	}
	if len(out) == 0 {
		return nil
	}
	return out
}
