package engrave_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/assets"
	"agremens/game/engrave"
	"agremens/realize"
)

// A page keeps to its width, its systems stand under each other without
// touching, time goes right within a system, and every printed note is there.
func TestPageKeepsItsWidth(t *testing.T) {
	for _, entry := range assets.Passages() {
		p := decode(t, entry.ABC)
		r := realize.Read(p, realize.Taste{})
		for _, width := range []float64{50, 80, 140} {
			for _, played := range []bool{false, true} {
				l := engrave.Page(p, r, width, engrave.Options{Played: played})
				require.NotEmpty(t, l.Systems)
				assert.LessOrEqual(t, l.Right, width+1, "%s at %v", entry.ID, width)
				next := 0
				for i, s := range l.Systems {
					assert.Equal(t, next, s.From)
					next = s.To
					if i > 0 {
						assert.Greater(t, s.Top, l.Systems[i-1].Bottom)
					}
				}
				assert.Equal(t, len(p.Measures), next)
				for _, c := range p.Chords {
					for _, n := range c.Notes {
						if !c.Hidden {
							assert.NotEmpty(t, l.Find(n.ID), string(n.ID))
						}
					}
				}
			}
		}
	}
}

// Whatever the width and the bars chosen: finite places, x that grows with
// time, spots inside the layout.
func TestLayoutsAreSound(t *testing.T) {
	entries := assets.Passages()
	rapid.Check(t, func(t *rapid.T) {
		p := decode(t, rapid.SampledFrom(entries).Draw(t, "passage").ABC)
		n := len(p.Measures)
		o := engrave.Options{From: rapid.IntRange(0, n-1).Draw(t, "from"), Played: rapid.Bool().Draw(t, "played")}
		o.To = rapid.IntRange(o.From+1, n).Draw(t, "to")
		r := realize.Read(p, realize.Taste{})
		var l *engrave.Layout
		if rapid.Bool().Draw(t, "page") {
			l = engrave.Page(p, r, rapid.Float64Range(30, 200).Draw(t, "width"), o)
		} else {
			l = engrave.Run(p, r, o)
		}
		for i := range l.Items {
			b := l.Items[i].Bounds()
			for _, v := range []float64{b.Left, b.Top, b.Right, b.Bottom} {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("item %d: %+v", i, l.Items[i])
				}
			}
		}
		for _, s := range l.Spots {
			if s.Box.Left < l.Left-2 || s.Box.Right > l.Right+2 || s.Box.Top < l.Top-2 || s.Box.Bottom > l.Bottom+2 {
				t.Fatalf("spot outside: %+v in %v %v %v %v", s, l.Left, l.Right, l.Top, l.Bottom)
			}
		}
		for _, s := range l.Systems {
			last := math.Inf(-1)
			for q := s.Start; q < s.End; q += 0.125 {
				x := l.X(q)
				if x <= last {
					t.Fatalf("x %v after %v at %v", x, last, q)
				}
				last = x
			}
		}
	})
}
