package realize_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/realize"
	"agremens/realize/score"
)

func asked(r *realize.Reading, about string) int {
	for i, q := range r.Questions {
		if q.About == about {
			return i
		}
	}
	return -1
}

// TestQuestions: what the reading was not sure of is asked, the default
// applied, and one tap settles it.
func TestQuestions(t *testing.T) {
	const head = "X:1\nM:4/4\nL:1/4\n%%score {R L}\nV:R clef=treble\nV:L clef=bass\n"
	for _, c := range []struct {
		name, music, about, before, after string
		taste                             realize.Taste
		option                            int
		quiet                             bool // the same place, settled by the score, asks nothing
	}{
		{name: "no tempo", music: "K:C\n[V:R] Td2 c2 |]\n[V:L] z4 |]\n", about: realize.AboutTempo, taste: realize.Taste{Tradition: "bach"}, option: 1},
		{name: "no composer or date", music: "K:C\n[V:R] Td2 c2 |]\n[V:L] z4 |]\n", about: realize.AboutTradition, taste: realize.Taste{Tempo: 72}, option: 1},
		{name: "a stroke through the small note", music: "K:C\n[V:R] {/e/2}d2 c2 |]\n[V:L] z4 |]\n", about: realize.AboutSlash,
			taste: realize.Taste{Tradition: "vienna", Tempo: 72}, option: 1, before: "E5:1 D5:1", after: "E5:1/8 D5:15/8"},
		{name: "a trill without its end", music: "K:C\n[V:R] z2 Td2- | d2 c2 |]\n[V:L] z4 | z4 |]\n", about: realize.AboutTrillEnd,
			taste: realize.Taste{Tradition: "bach", Tempo: 72}, option: 1,
			before: "E5:1/4 D5:1/4 E5:1/4 D5:1/4 E5:1/4 D5:1/4 E5:1/4 D5:1/4 E5:1/4 D5:1/4 E5:1/4 D5:1/4 E5:1/4 D5:1/4 E5:1/4 D5:1/4",
			after:  "E5:1/4 D5:1/4 E5:1/4 D5:1/4 E5:1/4 D5:1/4 E5:1/4 D5:1/4 E5:1/4 D5:1/4 E5:1/4 D5:1/4 E5:1/4 D5:1/4 C5:1/4 D5:1/4"},
		{name: "no such question with a printed end", music: "K:C\n[V:R] z2 Td2- | d2 {cd}c2 |]\n[V:L] z4 | z4 |]\n", about: realize.AboutTrillEnd,
			taste: realize.Taste{Tradition: "bach", Tempo: 72}, quiet: true},
		{name: "a doubtful accidental", music: "K:C\n[V:R] c2 Pe d | c2 f2 |]\n[V:L] C,/ ^F,/ G, C, z | A,2 F,2 |]\n", about: realize.AboutAccidental,
			taste: realize.Taste{Tradition: "bach", Tempo: 80}, option: 1,
			before: "F5:1/8 E5:1/8 F5:1/8 E5:1/8 F5:1/8 E5:3/8", after: "F#5:1/8 E5:1/8 F#5:1/8 E5:1/8 F#5:1/8 E5:3/8"},
		{name: "no doubt with an accidental on the sign", music: "K:C\n[V:R] c2 \"^=\"Pe d | c2 f2 |]\n[V:L] C,/ ^F,/ G, C, z | A,2 F,2 |]\n", about: realize.AboutAccidental,
			taste: realize.Taste{Tradition: "bach", Tempo: 80}, quiet: true},
		{name: "Haydn's own sign", music: "C:Joseph Haydn\nK:C\n[V:R] !turn!d2 c2 |]\n[V:L] z4 |]\n", about: realize.AboutHaydnSign,
			taste: realize.Taste{Tempo: 72}, option: 1, after: "D5:1/8 C5:1/8 D5:7/4"},
		{name: "a turn of Haydn's on a short note", music: "C:Joseph Haydn\nK:C\n[V:R] !turn!d/ c/ c3 |]\n[V:L] z4 |]\n", about: realize.AboutHaydnSign,
			taste: realize.Taste{Tempo: 72}, quiet: true},
		{name: "a turn of Mozart's", music: "C:Mozart\nK:C\n[V:R] !turn!d2 c2 |]\n[V:L] z4 |]\n", about: realize.AboutHaydnSign,
			taste: realize.Taste{Tempo: 72}, quiet: true},
		{name: "a sign on a chord", music: "K:Cm\n[V:R] T[ce]2 d2 |]\n[V:L] z4 |]\n", about: realize.AboutChordSign,
			taste: realize.Taste{Tradition: "vienna", Tempo: 100}, option: 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := passage(t, head+c.music)
			if c.about == realize.AboutChordSign {
				for i := range p.Chords {
					for j := range p.Chords[i].Signs {
						p.Chords[i].Signs[j].Note = 0 // as some files store it
					}
				}
			}
			r := realize.Read(p, c.taste)
			at := asked(r, c.about)
			if c.quiet {
				assert.Negative(t, at)
				return
			}
			require.GreaterOrEqual(t, at, 0, "%+v", r.Questions)
			q := r.Questions[at]
			assert.NotEmpty(t, q.Assumed)
			require.Greater(t, len(q.Options), c.option)
			if c.before != "" {
				assert.Equal(t, c.before, shown(r.Ornaments[0].Choices[r.Ornaments[0].Chosen]))
			}
			for _, option := range []int{0, c.option} {
				settled := r.Answer(c.taste, at, option)
				again := realize.Read(p, settled)
				assert.Negative(t, asked(again, c.about), "settled by option %d", option)
				o := again.Ornaments[0]
				switch {
				case option == 0 && c.about != realize.AboutTempo:
					assert.Equal(t, shown(r.Ornaments[0].Choices[0]), shown(o.Choices[o.Chosen]), "what was assumed stays")
				case c.after != "":
					assert.Equal(t, c.after, shown(o.Choices[o.Chosen]))
				}
			}
			assert.Equal(t, c.taste, r.Answer(c.taste, at, 99))
			assert.Equal(t, c.taste, r.Answer(c.taste, 99, 0))
		})
	}
}

// Never more than six questions, however many places are open.
func TestAtMostSixQuestions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPassage(t)
		r := realize.Read(p, drawTaste(t))
		if len(r.Questions) > realize.MostQuestions {
			t.Fatalf("%d questions", len(r.Questions))
		}
		kinds := map[string]bool{}
		for i, q := range r.Questions {
			if kinds[q.About] || len(q.Options) == 0 || q.Text == "" || q.Assumed == "" {
				t.Fatalf("%+v", q)
			}
			kinds[q.About] = true
			for k := range q.Options {
				r.Answer(realize.Taste{}, i, k)
			}
		}
	})
}

// Half a slur is asked about where the ornament is played otherwise under a
// whole one: a trill after a slurred step down is tied to the note before it
// (C.P.E. Bach, Versuch I, 2.3 § 30, as in the traditions' rules).
func TestHalfASlur(t *testing.T) {
	const head = "X:1\nM:4/4\nL:1/4\n%%score {R L}\nV:R clef=treble\nV:L clef=bass\nK:C\n"
	taste := realize.Taste{Tradition: "vienna", Tempo: 60}
	first := func(p *score.Passage, taste realize.Taste) string {
		o := realize.Read(p, taste).Ornaments[0]
		return shown(o.Choices[o.Chosen])
	}
	bare, slurred := head+"[V:R] e Td2 c |]\n[V:L] z4 |]\n", head+"[V:R] (e Td2) c |]\n[V:L] z4 |]\n"
	require.NotEqual(t, first(passage(t, bare), taste), first(passage(t, slurred), taste))
	for name, tear := range map[string]func(*score.Chord){
		"its beginning": func(c *score.Chord) { c.SlurBegins = !c.IsRest() && len(c.Signs) == 0 && c.Onset.IsZero() },
		"its end":       func(c *score.Chord) { c.SlurEnds = len(c.Signs) > 0 },
	} {
		t.Run(name, func(t *testing.T) {
			p := passage(t, bare)
			assert.Negative(t, asked(realize.Read(p, taste), realize.AboutSlur), "without it")
			for i := range p.Chords {
				tear(&p.Chords[i])
			}
			r := realize.Read(p, taste)
			at := asked(r, realize.AboutSlur)
			require.GreaterOrEqual(t, at, 0)
			assert.Equal(t, first(passage(t, bare), taste), first(p, r.Answer(taste, at, 0)))
			assert.Equal(t, first(passage(t, slurred), taste), first(p, r.Answer(taste, at, 1)))
			assert.Negative(t, asked(realize.Read(p, r.Answer(taste, at, 1)), realize.AboutSlur), "settled")
		})
	}
	p := passage(t, head+"[V:R] G Td2 c |]\n[V:L] z4 |]\n")
	for i := range p.Chords {
		p.Chords[i].SlurBegins = true
	}
	assert.Negative(t, asked(realize.Read(p, taste), realize.AboutSlur), "nothing depends on it")
}
