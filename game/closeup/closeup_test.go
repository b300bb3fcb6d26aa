package closeup_test

import (
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/game/closeup"
	"agremens/realize/perf"
	"agremens/realize/tap"
)

// mordent is three quick notes and the next one, 600 ms a beat, in one hand.
func mordent(hand perf.Hand) []tap.Want {
	return []tap.Want{
		{At: 0, Hand: hand, Ornament: "m", Name: "mordent", Index: 0, Measured: true, Beat: true},
		{At: 100, Hand: hand, Ornament: "m", Name: "mordent", Index: 1, Degree: -1, Measured: true},
		{At: 200, Hand: hand, Ornament: "m", Name: "mordent", Index: 2, Measured: true},
		{At: 600, Hand: hand, Landing: true, Beat: true},
	}
}

// result is a round of these wants, each so late; a number over 1000 is none.
func result(wants []tap.Want, late ...float64) *tap.Result {
	r := &tap.Result{Ornaments: []tap.OrnamentResult{{Ornament: "m", Hand: wants[0].Hand, At: wants[0].At}}}
	for i, ms := range late {
		m := tap.Mark{Want: i, Tap: i, ErrorMS: ms}
		if ms > 1000 {
			m.Tap = -1
		} else {
			r.Hit++
		}
		r.Marks = append(r.Marks, m)
	}
	return r
}

func words(f closeup.Figure) (out []string) {
	for _, n := range f.Notes {
		out = append(out, n.Word(nil))
	}
	return out
}

// 40 ms is what nothing under it is marked against the other hand (teaching
// notes); a quick note stands out by a third of its length. One word between
// the first note and the landing: the one that stands out most.
func TestVerdicts(t *testing.T) {
	for name, tt := range map[string]struct {
		late []float64
		want []string
	}{
		"in time":               {[]float64{0, 0, 0, 0}, []string{"on the beat", "", "", "lands"}},
		"just within":           {[]float64{40, 25, -25, -40}, []string{"on the beat", "", "", "lands"}},
		"just without":          {[]float64{41, 0, 0, -41}, []string{"late", "", "", "early"}},
		"the one furthest off":  {[]float64{0, 45, -60, 0}, []string{"on the beat", "", "early", "lands"}},
		"missed":                {[]float64{0, 2000, 0, 2000}, []string{"on the beat", "missed", "", "missed"}},
		"missed at its beating": {[]float64{2000, 0, 0, 0}, []string{"missed", "", "", "lands"}},
	} {
		t.Run(name, func(t *testing.T) {
			wants := mordent(perf.Right)
			f, ok := closeup.Of(result(wants, tt.late...), wants, nil)
			require.True(t, ok)
			assert.Equal(t, tt.want, words(f))
			assert.True(t, f.Notes[3].Landing)
		})
	}
}

// The player's own lead is taken out.
func TestTheLeadIsTakenOut(t *testing.T) {
	wants := mordent(perf.Left)
	r := result(wants, -50, -50, -50, -50)
	r.Leads[perf.Left].MS = -50
	f, ok := closeup.Of(r, wants, nil)
	require.True(t, ok)
	assert.Equal(t, []string{"on the beat", "", "", "lands"}, words(f))
}

// The ornament shown is the one that the first finding speaks of, else the one
// that started furthest off.
func TestWhichOrnament(t *testing.T) {
	wants := mordent(perf.Right)
	for _, w := range mordent(perf.Right) {
		w.At += 1200
		if w.Ornament != "" {
			w.Ornament = "second"
		}
		wants = append(wants, w)
	}
	r := result(wants, 0, 0, 0, 0, 10, 0, 0, 0)
	r.Ornaments = append(r.Ornaments, tap.OrnamentResult{Ornament: "second", At: 1200, Start: tap.Amount{V: 10, Known: true}})
	f, _ := closeup.Of(r, wants, nil)
	assert.Equal(t, "second", f.Ornament)
	r.Findings = []tap.Finding{{Ornament: "m"}}
	f, _ = closeup.Of(r, wants, nil)
	assert.Equal(t, "m", f.Ornament)
}

func TestNothingToShow(t *testing.T) {
	wants := mordent(perf.Right)
	for name, r := range map[string]*tap.Result{"none": nil, "spoilt": {Spoilt: tap.CodeHardly, Hit: 3}, "nothing tapped": {}} {
		_, ok := closeup.Of(r, wants, nil)
		assert.False(t, ok, name)
	}
	_, ok := closeup.Of(result(wants[:1], 0), wants[:1], nil)
	assert.False(t, ok, "a single note")
	assert.Empty(t, closeup.Figure{}.SVG(nil))
}

// Two players are shown apart: what one taps does not stand among the other's.
func TestTwoPlayers(t *testing.T) {
	wants := append(mordent(perf.Right), mordent(perf.Left)...)
	r := result(wants, 0, 0, 0, 0, 90, 90, 90, 90)
	r.Ornaments = append(r.Ornaments, tap.OrnamentResult{Ornament: "m", Hand: perf.Left})
	all, ok := closeup.Hands(r, wants, nil)
	assert.Equal(t, [2]bool{true, true}, ok)
	assert.Equal(t, "on the beat", all[perf.Right].Notes[0].Word(nil))
	assert.Equal(t, "late", all[perf.Left].Notes[0].Word(nil))
}

// Every picture is well formed, and no dot leaves it.
func TestPictures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := closeup.Figure{Ornament: "m"}
		at := 0.0
		for range rapid.IntRange(2, 16).Draw(t, "notes") {
			f.Notes = append(f.Notes, closeup.Note{
				Wanted: at, Off: rapid.Float64Range(-3000, 3000).Draw(t, "off"), Tapped: rapid.Bool().Draw(t, "tapped"),
				Degree: rapid.IntRange(-2, 2).Draw(t, "degree"), Verdict: closeup.Verdict(rapid.IntRange(0, 5).Draw(t, "verdict")),
			})
			at += rapid.Float64Range(20, 2000).Draw(t, "apart")
		}
		svg := f.SVG(nil)
		require.NotContains(t, svg, "NaN")
		for d := xml.NewDecoder(strings.NewReader(svg)); ; {
			token, err := d.Token()
			if err == io.EOF {
				break
			}
			require.NoError(t, err)
			if e, ok := token.(xml.StartElement); ok && e.Name.Local == "circle" {
				for _, a := range e.Attr {
					if a.Name.Local == "cx" {
						require.NotContains(t, a.Value, "-", "left of the picture")
					}
				}
			}
		}
	})
}
