package score_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/assets"
	"agremens/realize/music"
	"agremens/realize/score"
)

// anyPassage draws one of the built-in passages.
func anyPassage(t *rapid.T) *score.Passage {
	all := assets.Passages()
	return decode(t, all[rapid.IntRange(0, len(all)-1).Draw(t, "passage")].ABC)
}

// anyNote draws a note; small ones only if asked for.
func anyNote(t *rapid.T, p *score.Passage) score.Ref {
	var notes []score.Ref
	for i := range p.Chords {
		for j := range p.Chords[i].Notes {
			if p.Chords[i].Grace == nil {
				notes = append(notes, score.Ref{Chord: i, Note: j})
			}
		}
	}
	return notes[rapid.IntRange(0, len(notes)-1).Draw(t, "note")]
}

// Every change leaves the passage it started from alone and keeps the
// promises of a passage.
func TestChangesAreCopies(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPassage(t)
		before := p.Format()
		id := p.At(anyNote(t, p)).ID
		steps := []func(*score.Passage) (*score.Passage, error){
			func(p *score.Passage) (*score.Passage, error) {
				return p.WithSign(id, score.Sign{Kind: score.Turn})
			},
			func(p *score.Passage) (*score.Passage, error) { return p.WithSignAccidental(id, "sharp", true) },
			func(p *score.Passage) (*score.Passage, error) { return p.WithoutSigns(id) },
			func(p *score.Passage) (*score.Passage, error) {
				return p.WithSmallNotes(id, []music.Pitch{music.MustPitch("C#5"), music.MustPitch("D5")}, score.N16th, false)
			},
			func(p *score.Passage) (*score.Passage, error) { return p.WithoutSmallNotes(id) },
			func(p *score.Passage) (*score.Passage, error) { return p.WithTempo(50), nil },
		}
		q := p
		for range rapid.IntRange(1, 6).Draw(t, "steps") {
			was := q.Format()
			next, err := steps[rapid.IntRange(0, len(steps)-1).Draw(t, "step")](q)
			if q.Format() != was {
				t.Fatal("a change wrote into its passage")
			}
			if err != nil {
				continue // an accidental without a sign
			}
			if err := next.Check(); err != nil {
				t.Fatal(err)
			}
			q = next
		}
		if p.Format() != before {
			t.Fatal("the first passage changed")
		}
	})
}

// Putting a sign and taking it away gives the passage without one; putting it
// twice is putting it once.
func TestSignLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPassage(t)
		r := anyNote(t, p)
		id := p.At(r).ID
		sign := score.Sign{Kind: rapid.SampledFrom([]score.SignKind{score.Turn, score.TrillMark, score.Mordent}).Draw(t, "kind")}
		once, err := p.WithSign(id, sign)
		require.NoError(t, err)
		twice, err := once.WithSign(id, sign)
		require.NoError(t, err)
		require.Equal(t, once, twice)
		bare, err := p.WithoutSigns(id)
		require.NoError(t, err)
		back, err := once.WithoutSigns(id)
		require.NoError(t, err)
		require.Equal(t, bare, back)
		c := once.Chords[r.Chord]
		require.Len(t, c.Signs, 1)
		require.Equal(t, r.Note, c.Signs[0].Note)
		if len(c.Notes) > 1 && r.Note == 0 {
			require.True(t, c.Signs[0].Placed && !c.Signs[0].Above, "below the bottom note")
		}
	})
}

// Small notes that are put and taken away leave nothing behind, and slurs
// still hold the notes they held.
func TestSmallNoteLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPassage(t)
		id := p.At(anyNote(t, p)).ID
		bare, err := p.WithoutSmallNotes(id)
		require.NoError(t, err)
		with, err := bare.WithSmallNotes(id, []music.Pitch{music.MustPitch("E5")}, score.Eighth, true)
		require.NoError(t, err)
		require.NoError(t, with.Check())
		require.Len(t, with.Chords, len(bare.Chords)+1)
		r, _ := with.Find(id)
		small := with.Chords[r.Chord-1]
		for i := r.Chord - 1; small.Grace == nil || small.Voice != with.Chords[r.Chord].Voice; i-- {
			small = with.Chords[i]
		}
		require.True(t, small.Grace.Slash)
		require.Equal(t, with.Chords[r.Chord].Onset, small.Onset)
		back, err := with.WithoutSmallNotes(id)
		require.NoError(t, err)
		require.Equal(t, bare.Format(), back.Format())
	})
}

func TestSignAccidental(t *testing.T) {
	p := decode(t, "K:C\n!turn!A2 B2|")
	sharp, err := p.WithSignAccidental("n1", "sharp", true)
	require.NoError(t, err)
	both, err := sharp.WithSignAccidental("n1", "flat", false)
	require.NoError(t, err)
	assert.Equal(t, []score.AccidentalMark{{Value: "sharp", Below: true, Placed: true}, {Value: "flat", Placed: true}}, both.Chords[0].Signs[0].Accidentals)
	one, err := both.WithSignAccidental("n1", "", true)
	require.NoError(t, err)
	assert.Equal(t, []score.AccidentalMark{{Value: "flat", Placed: true}}, one.Chords[0].Signs[0].Accidentals)
	none, err := one.WithSignAccidental("n1", "", false)
	require.NoError(t, err)
	assert.Equal(t, p, none)

	_, err = p.WithSignAccidental("n2", "sharp", false)
	assert.ErrorContains(t, err, "no sign")
	_, err = p.WithSignAccidental("n1", "purple", false)
	assert.ErrorContains(t, err, "purple")
	for _, change := range []func() (*score.Passage, error){
		func() (*score.Passage, error) { return p.WithSign("nobody", score.Sign{Kind: score.Turn}) },
		func() (*score.Passage, error) { return p.WithoutSigns("nobody") },
		func() (*score.Passage, error) { return p.WithSignAccidental("nobody", "", false) },
		func() (*score.Passage, error) { return p.WithoutSmallNotes("nobody") },
	} {
		_, err := change()
		assert.ErrorIs(t, err, score.ErrNoNote)
	}
	a4 := music.MustPitch("A4")
	for _, change := range []func() (*score.Passage, error){
		func() (*score.Passage, error) { return p.WithSmallNotes("n1", nil, score.Eighth, false) },
		func() (*score.Passage, error) {
			return p.WithSmallNotes("n1", []music.Pitch{a4}, score.Unspecified, false)
		},
		func() (*score.Passage, error) {
			return p.WithSmallNotes("n1", []music.Pitch{a4.WithAlter(3)}, score.Eighth, false)
		},
		func() (*score.Passage, error) {
			return p.WithSmallNotes("n1", []music.Pitch{{Octave: 12}}, score.Eighth, false)
		},
	} {
		_, err := change()
		assert.Error(t, err)
	}
	small := decode(t, "K:C\n{g}A2 B2|")
	_, err = small.WithSign("n1", score.Sign{Kind: score.Turn})
	assert.ErrorContains(t, err, "grace note")
}

// Transposing there and back gives the passage; on the way every interval
// between notes, every printed accidental and every distance from the key is
// what it was.
func TestTransposeLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPassage(t)
		from := music.MustPitch("C4")
		to := music.Pitch{
			Step:   music.Step(rapid.IntRange(0, 6).Draw(t, "step")),
			Alter:  rapid.Int8Range(-1, 1).Draw(t, "alter"),
			Octave: rapid.Int8Range(3, 5).Draw(t, "octave"),
		}
		iv := from.To(to)
		q, err := p.Transposed(iv)
		if err != nil {
			return // a key or a note that cannot be written
		}
		require.NoError(t, q.Check())
		for i := range p.Chords {
			for j := range p.Chords[i].Notes {
				a, b := p.Chords[i].Notes[j], q.Chords[i].Notes[j]
				require.Equal(t, iv, a.Pitch.To(b.Pitch))
				require.Equal(t, a.Accidental == "", b.Accidental == "")
				ka, kb := p.KeyAt(p.Chords[i].Onset), q.KeyAt(q.Chords[i].Onset)
				require.Equal(t, int(a.Pitch.Alter)-ka.Alter(a.Pitch.Step), int(b.Pitch.Alter)-kb.Alter(b.Pitch.Step))
				require.Equal(t, ka.Degree(a.Pitch.Step), kb.Degree(b.Pitch.Step))
			}
		}
		back, err := q.Transposed(music.Interval{Steps: -iv.Steps, Semitones: -iv.Semitones})
		require.NoError(t, err)
		require.Equal(t, p, back)
	})
}

// Worked by hand (common practice, no source): a mordent on D with C sharp in
// G major is one on F with E natural in B flat.
func TestTransposeExamples(t *testing.T) {
	p := decode(t, "K:G\n\"_#\"Md2 ^c2|")
	q, err := p.Transposed(music.Interval{Steps: 2, Semitones: 3})
	require.NoError(t, err)
	assert.Equal(t, int8(-2), q.Measures[0].Key.Fifths)
	assert.Equal(t, "F5", q.Chords[0].Notes[0].Pitch.String())
	assert.Equal(t, "natural", q.Chords[0].Signs[0].Accidentals[0].Value)
	assert.Equal(t, "E5", q.Chords[1].Notes[0].Pitch.String())
	assert.Equal(t, "natural", q.Chords[1].Notes[0].Accidental)

	_, err = decode(t, "K:B\nB2|").Transposed(music.Interval{Steps: 1, Semitones: 3})
	assert.ErrorContains(t, err, "seven accidentals")
	_, err = p.Transposed(music.Interval{Steps: 70, Semitones: 120})
	assert.ErrorContains(t, err, "keyboard")
	assert.Equal(t, 50.0, p.WithTempo(50).Tempos[0].QuartersPerMinute)
}
