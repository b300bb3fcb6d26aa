package realize_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/music"
	"agremens/realize/score"
)

var drawnSigns = []string{"T", "P", "M", "!turn!", "!delayedturn!", "!invertedturn!", "!delayedinvertedturn!",
	"!slide!", "!haydn!", "!shake!", "!tremolo!", "!longmordent!", "!verticalturn!", "!arpeggio!", "{e}", "{/e}", "{B}",
	"{de}", "{Bcd}", "{A/2B/2}", "!ornamentPrecompSlideTrillBach!", "!ornamentPrecompTurnTrillBach!",
	"!ornamentPrecompAppoggTrill!", "!ornamentPrecompPortDeVoixMordent!", "!ornamentHookAfterNote!", "!ornamentVerticalLine!",
	"T!turn!", "P!turn!", "{e}T", "{B}M", "{Bc}T", "!arpeggio!M", "!nonsense!T"}

// drawPassage makes two bars in a drawn key with one to three ornaments.
func drawPassage(t *rapid.T) *score.Passage {
	key := rapid.SampledFrom([]string{"C", "G", "F", "D", "Bb", "Am", "Dm", "Em", "Eb"}).Draw(t, "key")
	lengths := []string{"/4", "/2", "3/4", "", "3/2", "2", "3", "5/4"}
	var notes []string
	for range rapid.IntRange(2, 6).Draw(t, "notes") {
		sign := ""
		if rapid.IntRange(0, 1).Draw(t, "signed") == 1 {
			sign = rapid.SampledFrom(drawnSigns).Draw(t, "sign")
		}
		pitch := rapid.SampledFrom([]string{"c", "d", "e", "f", "g", "A", "B", "[ce]", "[Ace]", "[^ce]"}).Draw(t, "pitch")
		notes = append(notes, sign+pitch+rapid.SampledFrom(lengths).Draw(t, "length"))
		if rapid.IntRange(0, 5).Draw(t, "rest") == 0 {
			notes = append(notes, "z")
		}
	}
	text := fmt.Sprintf("X:1\nM:none\nL:1/4\n%%%%score {R L}\nV:R clef=treble\nV:L clef=bass\nK:%s\n[V:R] %sT%s | c2 |]\n[V:L] C,/2 E,/2 G,/2 C/2 G, E, | C,2 |]\n",
		key, strings.Join(notes, " ")+" ", "d")
	p, _, err := abc.Decode(text)
	if err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	return p
}

func drawTaste(t *rapid.T) realize.Taste {
	keys := []string{""}
	for _, tr := range realize.Traditions() {
		keys = append(keys, tr.Key)
	}
	return realize.Taste{
		Tradition: rapid.SampledFrom(keys).Draw(t, "tradition"),
		Prefer:    rapid.SampledFrom([]realize.Preference{"", realize.Sources, realize.Performers}).Draw(t, "prefer"),
		Tempo:     rapid.SampledFrom([]float64{0, 30, 54, 72, 96, 132, 200, 330}).Draw(t, "tempo"),
		Rate:      rapid.SampledFrom([]float64{0, 3, 6, 8, 12}).Draw(t, "rate"),
	}
}

func TestEveryChoiceFillsItsRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPassage(t)
		taste := drawTaste(t)
		r := realize.Read(p, taste)
		for _, o := range r.Ornaments {
			if len(o.Choices) < 2 && !(len(o.Covers) == 1 && o.Signs[0] == "arpeggiate") {
				t.Fatalf("%v has %d choices", o.Signs, len(o.Choices))
			}
			plain := false
			for _, c := range o.Choices {
				plain = plain || c.Key == "plain"
				checkRoom(t, o, c)
				if n := len(strings.Fields(c.Reason)); n == 0 || n > realize.ReasonWords {
					t.Fatalf("%s: a reason of %d words", c.Key, n)
				}
				if len(c.Sources) == 0 || c.Name == "" {
					t.Fatalf("%s has no source or no name", c.Key)
				}
			}
			if !plain {
				t.Fatalf("%v: plain is not among the choices", o.Signs)
			}
		}
		// Deterministic, and the passage is not changed.
		again := realize.Read(p, taste)
		assert.Equal(t, r, again)
	})
}

func checkRoom(t fataler, o realize.Ornament, c realize.Choice) {
	from, to := music.Frac{}, o.Notated
	for _, b := range c.Borrows {
		if b.After {
			to = to.Add(b.Amount)
		} else {
			from = from.Sub(b.Amount)
		}
	}
	first, last := c.Notes[0].Onset, music.Frac{}
	for i, n := range c.Notes {
		if n.Dur.Sign() <= 0 {
			t.Fatalf("%s: note %d lasts %v", c.Key, i, n.Dur)
		}
		first = first.Min(n.Onset)
		last = last.Max(n.Onset.Add(n.Dur))
		if i > 0 && n.Onset.Less(c.Notes[i-1].Onset) {
			t.Fatalf("%s: notes out of order", c.Key)
		}
	}
	if first.Less(from) && c.Key != "roll.early" {
		t.Fatalf("%s of %v starts at %v, before its room at %v", c.Key, o.Signs, first, from)
	}
	// What is let go early on purpose may leave silence; all else fills.
	silent := strings.HasPrefix(c.Key, "aspiration") || c.Key == "lean.detached" || c.Key == "slide.dotted"
	together := c.Key == "acciaccatura" || c.Key == "roll.added" || strings.HasPrefix(c.Key, "third")
	if last != to && !silent {
		t.Fatalf("%s of %v ends at %v, its room at %v\n%v", c.Key, o.Signs, last, to, c.Notes)
	}
	single := len(o.Covers) == 1
	for i := 1; i < len(c.Notes) && single && !strings.HasPrefix(c.Key, "mordent.together") && !together; i++ {
		if c.Notes[i-1].Onset.Add(c.Notes[i-1].Dur) != c.Notes[i].Onset {
			t.Fatalf("%s of %v: a gap before note %d\n%v", c.Key, o.Signs, i, c.Notes)
		}
	}
	// Notate adds up, with legal values.
	sum := make([]music.Frac, len(c.Notes))
	for _, w := range realize.Notate(&c, o.Notated) {
		if w.Value.Type == score.Unspecified || w.Value.Dots > 2 {
			t.Fatalf("%s: no legal value: %+v", c.Key, w)
		}
		sum[w.Note] = sum[w.Note].Add(w.Value.Quarters())
	}
	for i := range sum {
		if sum[i] != c.Notes[i].Dur && score.Value.Quarters(score.Value{Type: score.N256th}).Less(c.Notes[i].Dur) {
			t.Fatalf("%s: note %d of %v is written as %v", c.Key, i, c.Notes[i].Dur, sum[i])
		}
	}
}

// fataler is what a check needs of a test, native or drawn.
type fataler interface {
	Fatalf(format string, args ...any)
}

// Both orders hold the same choices.
func TestBothOrdersHoldTheSameChoices(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPassage(t)
		taste := drawTaste(t)
		taste.Prefer = "sources"
		a := realize.Read(p, taste)
		taste.Prefer = realize.Performers
		b := realize.Read(p, taste)
		for i := range a.Ornaments {
			if !assert.ElementsMatch(t, keys(a.Ornaments[i]), keys(b.Ornaments[i])) {
				t.FailNow()
			}
		}
	})
}

func keys(o realize.Ornament) []string {
	var out []string
	for _, c := range o.Choices {
		out = append(out, shown(c))
	}
	return out
}

// Transposing the passage by a step of the line of fifths transposes the notes.
func TestTransposing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPassage(t)
		taste := drawTaste(t)
		taste.Tradition = "bach"
		by := rapid.SampledFrom([]music.Interval{{Steps: 1, Semitones: 2}, {Steps: 4, Semitones: 7}, {Steps: -3, Semitones: -5}}).Draw(t, "by")
		fifths := map[int]int8{1: 2, 4: 1, -3: 1}[by.Steps]
		q := p.Clone()
		for i := range q.Measures {
			q.Measures[i].Key.Fifths += fifths
		}
		for i := range q.Chords {
			for j := range q.Chords[i].Notes {
				n := &q.Chords[i].Notes[j]
				n.Pitch = n.Pitch.Transpose(by)
			}
		}
		a, b := realize.Read(p, taste), realize.Read(q, taste)
		for i := range a.Ornaments {
			x, y := a.Ornaments[i], b.Ornaments[i]
			if len(x.Choices) != len(y.Choices) {
				t.Fatalf("%v: %v\n%v", x.Signs, keys(x), keys(y))
			}
			for k := range x.Choices {
				for m, n := range x.Choices[k].Notes {
					if got := y.Choices[k].Notes[m]; got.Pitch != n.Pitch.Transpose(by) || got.Dur != n.Dur {
						t.Fatalf("%s: %v became %v", x.Choices[k].Key, n, got)
					}
				}
			}
		}
	})
}

// A turn and an inverted turn mirror each other in scale steps.
func TestTurnsMirror(t *testing.T) {
	for _, tempo := range []float64{40, 60, 90, 140} {
		read := func(sign string) realize.Choice {
			p, _, err := abc.Decode("X:1\nM:none\nL:1/4\nK:C\n" + sign + "c2 z2 |]\n")
			require.NoError(t, err)
			return realize.Read(p, realize.Taste{Tradition: "london", Tempo: tempo}).Ornaments[0].Choices[0]
		}
		up, down := read("!turn!"), read("!invertedturn!")
		require.Equal(t, len(up.Notes), len(down.Notes))
		for i := range up.Notes {
			assert.Equal(t, up.Notes[i].Degree, -down.Notes[i].Degree)
			assert.Equal(t, up.Notes[i].Dur, down.Notes[i].Dur)
		}
	}
}

// A performance covers the passage without overlapping strikes of one key.
func TestPerformance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPassage(t)
		r := realize.Read(p, drawTaste(t))
		for i := range r.Ornaments {
			r = r.Choose(r.Ornaments[i].ID, rapid.IntRange(0, len(r.Ornaments[i].Choices)-1).Draw(t, "choice"))
		}
		for _, plain := range []bool{false, true} {
			sound := realize.Perform(r, realize.PerformOptions{Plain: plain})
			last := map[int]music.Frac{}
			for _, n := range sound.Notes {
				if n.Dur.Sign() <= 0 {
					t.Fatalf("a note of %v", n.Dur)
				}
				key := n.Pitch.MIDI()
				if end, ok := last[key]; ok && n.Onset.Less(end) {
					t.Fatalf("key %d struck while held", key)
				}
				last[key] = n.End()
				if plain && n.Ornament != "" {
					t.Fatal("an ornament in the plain performance")
				}
			}
		}
	})
}

// Mirrored signs mirror in scale steps under the same setting: the turn and
// the turn from below, the mordent and the short trill from the main note.
func TestMirroredSignsMirror(t *testing.T) {
	pairs := [][2]string{{"turn.held", "turn.inverted"}, {"turn.even", "turn.inverted.even"}, {"turn.main", "turn.inverted.main"},
		{"turn.late.half", "turn.inverted.late"}, {"mordent.single", "short.three"}}
	signs := [][2]string{{"!turn!", "!invertedturn!"}, {"!delayedturn!", "!delayedinvertedturn!"}, {"!verticalturn!", "!invertedverticalturn!"}, {"M", "P"}}
	compared := 0
	rapid.Check(t, func(t *rapid.T) {
		taste := drawTaste(t)
		length := rapid.SampledFrom([]string{"/2", "", "3/2", "2", "3"}).Draw(t, "length")
		before := rapid.SampledFrom([]string{"", "g", "B", "z"}).Draw(t, "before")
		sign := rapid.SampledFrom(signs).Draw(t, "sign")
		read := func(sign string) map[string][]int {
			p, _, err := abc.Decode("X:1\nM:none\nL:1/4\nK:C\n" + before + " " + sign + "c" + length + " z2 |]\n")
			if err != nil {
				t.Fatal(err)
			}
			out := map[string][]int{}
			for _, c := range realize.Read(p, taste).Ornaments[0].Choices {
				var steps []int
				for _, n := range c.Notes {
					steps = append(steps, n.Degree)
				}
				out[strings.TrimSuffix(c.Key, ".raised")] = steps
			}
			return out
		}
		up, down := read(sign[0]), read(sign[1])
		for _, pair := range pairs {
			a, b := up[pair[0]], down[pair[1]]
			if a == nil || b == nil {
				continue
			}
			compared++
			for i := range a {
				if len(a) != len(b) || a[i] != -b[i] {
					t.Fatalf("%s %v, %s %v", pair[0], a, pair[1], b)
				}
			}
		}
	})
	assert.Greater(t, compared, 15) // where few are drawn
}

// Every choice stays within what its sign allows: trills and turns within one
// step of the principal, mordents below it (or a short trill, where prints
// confuse the two), slides within a third, small notes on the pitches printed.
func TestChoicesStayWithinTheirSign(t *testing.T) {
	allowed := map[string][2]int{"T": {-1, 1}, "P": {-1, 1}, "M": {-1, 1}, "!turn!": {-1, 1}, "!delayedturn!": {-1, 1},
		"!invertedturn!": {-1, 1}, "!delayedinvertedturn!": {-1, 1}, "!haydn!": {-1, 1}, "!shake!": {-1, 1}, "!longmordent!": {-1, 1},
		"!slide!": {-2, 1}, "!tremolo!": {0, 0}, "{e}": {0, 1}, "{B}": {-1, 0}, "{/e}": {0, 1}, "{de}": {-1, 1}, "{AB}": {-2, 0}}
	names := slices.Sorted(maps.Keys(allowed))
	rapid.Check(t, func(t *rapid.T) {
		sign := rapid.SampledFrom(names).Draw(t, "sign")
		length := rapid.SampledFrom([]string{"/4", "/2", "", "3/2", "2", "4"}).Draw(t, "length")
		before := rapid.SampledFrom([]string{"", "c", "f", "(e", "z"}).Draw(t, "before")
		principal := map[bool]string{true: "d", false: "c"}[strings.Contains(sign, "e")]
		slur := map[bool]string{true: ")"}[strings.HasPrefix(before, "(")]
		p, _, err := abc.Decode("X:1\nM:none\nL:1/4\nK:C\n" + before + " " + sign + principal + length + slur + " g2 |]\n")
		if err != nil {
			t.Fatal(err)
		}
		span := allowed[sign]
		if sign == "{de}" { // the first small note repeats the principal
			span = [2]int{0, 1}
		}
		for _, o := range realize.Read(p, drawTaste(t)).Ornaments {
			for _, c := range o.Choices {
				for _, n := range c.Notes {
					if n.Degree < span[0] || n.Degree > span[1] {
						t.Fatalf("%s: %s goes %d steps", sign, c.Key, n.Degree)
					}
					if n.Degree != n.Pitch.Diatonic()-o.Principal.Diatonic() {
						t.Fatalf("%s: %v is called %d", c.Key, n.Pitch, n.Degree)
					}
				}
			}
		}
	})
}
