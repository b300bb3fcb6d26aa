package realize_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize"
	"agremens/realize/perf"
)

// heard lists what sounds as pitch@onset:length in quarters, in order.
func heard(p *perf.Performance) []string {
	var out []string
	for _, n := range p.Notes {
		out = append(out, n.Pitch.String()+"@"+n.Onset.String()+":"+n.Dur.String())
	}
	return out
}

// TestCasesAsHeard: what the cases say of the notes round an ornament, in the
// performance: what is held, what is not moved, what must not sound. Numbers
// as in cases.txt; common practice unless said otherwise.
func TestCasesAsHeard(t *testing.T) {
	for _, c := range []struct {
		name, tradition, music string
		tempo                  float64
		choice                 string // the first choice if empty
		sound, never           []string
	}{
		{name: "V1 the joined note is struck once and held into the trill", tradition: "berlin", tempo: 72,
			music: "M:3/4\nL:1/8\nK:C\n[V:R] f(eTd4) | c6 |]\n[V:L] G,6 | C,6 |]\n",
			sound: []string{"E5@1/2:3/4", "D5@5/4:1/4"}, never: []string{"E5@1:1/4"}},
		{name: "V4 the anticipation stands at its printed place", tradition: "bach", tempo: 72,
			music: "M:3/4\nL:1/8\nK:G\n[V:R] c2 TA3 G | G6 |]\n[V:L] C2 D4 | G,6 |]\n", sound: []string{"G4@5/2:1/2", "G4@3:3"}},
		{name: "V10 the next note moves to the triplet's third", tradition: "vienna", tempo: 54, choice: "turn.assimilated",
			music: "M:2/4\nL:1/16\nK:F\n[V:R] !delayedturn!c3d c4 |]\n[V:L] (3F,2A,2C2 (3F,2A,2C2 |]\n", sound: []string{"D5@2/3:1/3", "C4@2/3:1/3"}},
		{name: "V12a the silence is kept over the new chord", tradition: "berlin", tempo: 72,
			music: "M:2/4\nL:1/4\nK:C\n[V:R] {d/2}c z |]\n[V:L] [C,E,G,] [G,,B,,F,] |]\n", sound: []string{"C5@1/2:1/2"}, never: []string{"C5@1:1"}},
		{name: "V12b into the rest over the held one", tradition: "berlin", tempo: 72,
			music: "M:2/4\nL:1/4\nK:C\n[V:R] {d/2}c z |]\n[V:L] [C,E,G,]2 |]\n", sound: []string{"D5@0:1", "C5@1:1"}},
		{name: "V13 the other notes of the chord enter on the beat", tradition: "vienna", tempo: 60,
			music: "M:3/4\nL:1/8\nK:F\n[V:R] {B}[CFA]2 z4 |]\n[V:L] F,2 z4 |]\n", sound: []string{"C4@0:1", "F4@0:1", "Bb4@0:1/2", "A4@1/2:1/2"}},
		{name: "V14 the lower note is held", tradition: "vienna", tempo: 100,
			music: "M:4/4\nL:1/4\nK:Cm\n[V:R] T[ce] d z2 |]\n[V:L] C, G, z2 |]\n", sound: []string{"C5@0:1", "Eb5@0:1/8"}, never: []string{"D5@1/8:1/8"}},
		{name: "V16 the triplet is not moved", tradition: "berlin", tempo: 84,
			music: "M:4/4\nL:1/8\nK:G\n[V:R] {e}(3dcB A2 G4 |]\n", sound: []string{"E5@0:1/12", "D5@1/12:1/4", "C5@1/3:1/3", "B4@2/3:1/3"}},
		{name: "V19 the bass octave's lower note is held", tradition: "bach", tempo: 72,
			music: "M:4/4\nL:1/4\nK:Dm\n[V:R] f4 |]\n[V:L] M[A,,A,]2 D,2 |]\n", sound: []string{"A2@0:2", "A3@0:1/8", "G3@1/8:1/8"}, never: []string{"G2@1/8:1/8"}},
		{name: "V21 the key comes up between two strikes", tradition: "bach", tempo: 88,
			music: "M:4/4\nL:1/4\nK:D\n[V:R] A MA A z |]\n", sound: []string{"A4@0:1", "A4@1:1/8"}},
		{name: "V23 the suspension is held and falls", tradition: "bach", tempo: 72,
			music: "M:4/4\nL:1/8\nK:F\n[V:R] z4 Tg4- | gf f2 z4 |]\n[V:L] C,4 C,4 | F,8 |]\n", sound: []string{"G5@15/4:3/4", "F5@9/2:1/2"}, never: []string{"G5@4:1/2"}},
		{name: "V24 both hands move together", tradition: "vienna", tempo: 80,
			music: "M:4/4\nL:1/4\nK:C\n[V:R] Td2 c2 |]\n[V:L] TB,2 C2 |]\n",
			sound: []string{"E5@0:1/4", "C4@0:1/4", "C5@3/2:1/4", "A3@3/2:1/4", "D5@7/4:1/4", "B3@7/4:1/4"}},
		{name: "W3 the next note stands exactly on its beat", tradition: "vienna", tempo: 72,
			music: "M:4/4\nL:1/4\nK:C\n[V:R] Td2 {cd}c2 |]\n", sound: []string{"C5@2:2"}},
		{name: "W6 both notes lean", tradition: "vienna", tempo: 72,
			music: "M:3/4\nL:1/8\nK:Eb\n[V:R] {[GB]}[FA]2 z4 |]\n", sound: []string{"G4@0:1/2", "Bb4@0:1/2", "F4@1/2:1/2", "Ab4@1/2:1/2"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.sound)
			p := passage(t, "X:1\n%%score {R L}\nV:R clef=treble\nV:L clef=bass\n"+c.music)
			r := realize.Read(p, realize.Taste{Tradition: c.tradition, Tempo: c.tempo})
			if c.choice != "" {
				found := false
				for i, x := range r.Ornaments[0].Choices {
					if x.Key == c.choice || x.Key == c.choice+".raised" {
						r, found = r.Choose(r.Ornaments[0].ID, i), true
					}
				}
				require.True(t, found, "no choice %s", c.choice)
			}
			got := heard(realize.Perform(r, realize.PerformOptions{}))
			for _, want := range c.sound {
				assert.Contains(t, got, want)
			}
			for _, no := range c.never {
				assert.NotContains(t, got, no)
			}
		})
	}
}

// V21: a note whose key is struck again as it ends is marked, so that it is
// let go a little early.
func TestRepeatedKeysAreLetGo(t *testing.T) {
	p := passage(t, "X:1\nM:4/4\nL:1/4\nK:D\nA MA A z |]\n")
	notes := realize.Perform(realize.Read(p, realize.Taste{Tradition: "bach", Tempo: 88}), realize.PerformOptions{}).Notes
	assert.True(t, notes[0].Release, "before the mordent")
	assert.True(t, notes[3].Release, "after it")
	assert.False(t, notes[1].Release)
}

// The same figure in the same surroundings is played the same way: no two
// readings four bars apart. Common practice, no source.
func TestTheSameFigureIsPlayedTheSameWay(t *testing.T) {
	for _, tr := range realize.Traditions() {
		bar := "[V:R] G (d Tc) B | e Pd {/f}e !turn!d | A2 Mc2 | d2 z2 |\n[V:L] C,/E,/G,/E,/ F,2 | G,2 G,,2 | A,2 F,2 | G,2 z2 |\n"
		p := passage(t, "X:1\nM:4/4\nL:1/4\nQ:1/4=72\n%%score {R L}\nV:R clef=treble\nV:L clef=bass\nK:C\n"+bar+bar)
		r := realize.Read(p, realize.Taste{Tradition: tr.Key})
		n := len(r.Ornaments) / 2
		require.Equal(t, 5, n)
		for i := range n {
			a, b := r.Ornaments[i], r.Ornaments[i+n]
			require.Len(t, b.Choices, len(a.Choices))
			for k := range a.Choices {
				assert.Equal(t, shown(a.Choices[k]), shown(b.Choices[k]), "%s, %v", tr.Key, a.Signs)
				assert.Equal(t, a.Choices[k].Reason, b.Choices[k].Reason)
			}
			assert.Contains(t, r.Alike(a.ID), b.ID)
		}
	}
}
