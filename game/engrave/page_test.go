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

// The line as played breaks where the systems do: a trill and a mordent that are
// held over bar lines keep to the paper, and each note stands in the system in
// which it begins.
func TestPlayedLineBreaksAtSystems(t *testing.T) {
	p := decode(t, "X:1\nM:4/4\nL:1/4\nQ:1/4=60\nK:C\ncdef|g2f2|Tg4-|g4-|g4|c'4|Mg4-|g4-|g4|{/a}g4|\n")
	r := realize.Read(p, realize.Taste{})
	require.Len(t, r.Ornaments, 3)
	broken := false
	for width := 40.0; width < 120; width += 10 {
		l := engrave.Page(p, r, width, engrave.Options{Played: true})
		assert.LessOrEqual(t, l.Right, width+0.5)
		for _, o := range r.Ornaments {
			seen, systems := map[int]bool{}, map[int]bool{}
			for _, s := range l.Spots {
				if s.Ornament != o.ID || s.Index < 0 {
					continue
				}
				seen[s.Index], systems[s.System] = true, true
				sys := l.Systems[s.System]
				assert.True(t, s.Onset >= sys.Start && s.Onset < sys.End, "%s note %d at %v in %v to %v", o.ID, s.Index, s.Onset, sys.Start, sys.End)
				assert.True(t, s.Box.Left >= sys.Left && s.Box.Right <= sys.Right, "%s note %d", o.ID, s.Index)
			}
			assert.Len(t, seen, len(o.Choices[o.Chosen].Notes), "%s at %v", o.ID, width)
			broken = broken || len(systems) > 1
		}
	}
	assert.True(t, broken, "one was broken")
	// Of the ornaments before the bars that are shown only what is held into them.
	l := engrave.Page(p, r, 60, engrave.Options{Played: true, From: 7})
	assert.Greater(t, l.Left, -3.0)
	for _, s := range l.Spots {
		assert.GreaterOrEqual(t, s.Onset, 28.0-1, s.Ornament)
		assert.NotEqual(t, r.Ornaments[0].ID, s.Ornament)
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
