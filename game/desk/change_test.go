package desk_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/game/desk"
	"agremens/realize"
	"agremens/realize/music"
)

// all is everything that undo and redo cover.
func all(d *desk.Desk) string {
	return d.Passage.Format() + d.Save()
}

func TestEverySignOfTheMenuStandsOnTheNote(t *testing.T) {
	for _, s := range desk.Signs() {
		d := open(t)
		d.StepNote(1)
		note := d.Note
		require.NoError(t, d.PutSign(s.Key), s.Name)
		assert.Equal(t, note, d.Note, s.Name)
		carried := d.Carried()
		assert.Equal(t, s.Key, carried.Sign+carried.Small, s.Name)
		_, ok := d.Ornament()
		assert.True(t, ok, "%s is read", s.Name)
		require.NoError(t, d.Passage.Check(), s.Name)
		require.NoError(t, d.PutSign(s.Key), s.Name)
		_, ok = d.Ornament()
		assert.False(t, ok, "%s is taken away by the same touch", s.Name)
	}
	d := open(t)
	d.StepNote(1)
	require.NoError(t, d.PutSign("small-above"))
	require.NoError(t, d.PutSign("trill"))
	assert.Equal(t, desk.Carried{Sign: "trill", Small: "small-above"}, d.Carried(), "a sign and a small note stand together")
	require.NoError(t, d.RemoveSign())
	assert.Equal(t, desk.Carried{}, d.Carried())
}

func TestEveryNoteCanBeReached(t *testing.T) {
	d := open(t)
	reached := map[string]bool{}
	walk := func(n int) {
		for range 40 {
			reached[string(d.Note)] = true
			d.StepNote(n)
		}
	}
	walk(-1)
	walk(1)
	d.StepVoice(-1)
	walk(-1)
	walk(1)
	notes := 0
	for i := range d.Passage.Chords {
		notes += len(d.Passage.Chords[i].Notes)
	}
	assert.Len(t, reached, notes)
}

func TestAStepFromAPlainNoteGoesToTheNextSign(t *testing.T) {
	d := open(t)
	d.Step(0)
	d.StepNote(2) // between the mordents of bars 1 and 3
	require.Equal(t, -1, d.Selected)
	d.Step(1)
	o, ok := d.Ornament()
	require.True(t, ok)
	assert.Equal(t, 3, o.Measure)
	d.Step(0)
	d.StepNote(-1)
	d.Step(-1)
	o, _ = d.Ornament()
	assert.Equal(t, 1, o.Measure)
}

func TestAccidentalsAndTempo(t *testing.T) {
	d := open(t)
	require.NoError(t, d.SetAccidental("sharp", true))
	assert.Equal(t, desk.Carried{Sign: "mordent", Below: "sharp"}, d.Carried())
	require.NoError(t, d.SetAccidental("", true))
	assert.Equal(t, desk.Carried{Sign: "mordent"}, d.Carried())
	d.SetGoal(70)
	require.NoError(t, d.SetTempo(80))
	assert.InDelta(t, 80, d.Goal(), 1e-9)
	d.Undo()
	assert.InDelta(t, 70, d.Goal(), 1e-9, "one step, with the goal that was set")
	assert.Error(t, d.SetTempo(-1))
	assert.InDelta(t, 70, d.Goal(), 1e-9)
}

func TestTranspositionKeepsKeyAndSigns(t *testing.T) {
	d := open(t)
	require.NoError(t, d.Transpose(music.Interval{Steps: 1, Semitones: 2}))
	assert.Equal(t, int8(3), d.Passage.Measures[0].Key.Fifths, "G major goes to A major")
	assert.Len(t, d.Reading.Ornaments, 2)
	assert.Error(t, d.Transpose(music.Interval{Steps: -1, Semitones: 10}), "more than two accidentals")
	d.Undo()
	// Every interval of the menu, up and down: none runs out of accidentals.
	for range 2 {
		for _, i := range desk.Intervals() {
			require.NoError(t, d.Transpose(i.Interval), i.Name)
			require.NoError(t, d.Transpose(i.Down()), i.Name)
		}
	}
	for d.CanUndo() {
		d.Undo()
	}
	assert.Equal(t, int8(1), d.Passage.Measures[0].Key.Fifths)
}

func TestAFailedChangeChangesNothing(t *testing.T) {
	d := open(t)
	before := all(d)
	d.StepVoice(9)
	assert.Error(t, d.PutSign("poem"))
	assert.Equal(t, before, all(d))
	assert.False(t, d.CanUndo())
}

// A desk that is restored twice holds the past of the second.
func TestRestoringAgainForgetsTheFirst(t *testing.T) {
	d := open(t)
	require.NoError(t, d.PutSign("trill"))
	require.NoError(t, d.PutSign("turn"))
	full := d.Save()
	plain := open(t).Save()
	e := open(t)
	e.Restore(full)
	require.True(t, e.CanUndo())
	e.Restore(plain)
	assert.False(t, e.CanUndo() || e.CanRedo())
	assert.Equal(t, plain, e.Save())
	e.Restore("change x\nmade 7\nat 99\nmoment 5%0Anothing\n")
	assert.False(t, e.CanUndo(), "what makes no sense is no past")
}

// Whatever is done, undo goes back through every state there was and redo
// forth again; what is kept brings the same desk back.
func TestUndoGoesBackThroughEveryState(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := desk.New("gigue", passageOf(gigue), realize.Taste{})
		first := d.Passage.Format()
		steps := rapid.IntRange(1, 25).Draw(t, "steps")
		for range steps {
			switch rapid.IntRange(0, 8).Draw(t, "what") {
			case 0:
				d.StepNote(rapid.IntRange(-3, 3).Draw(t, "along"))
			case 1:
				d.StepVoice(rapid.IntRange(-1, 1).Draw(t, "across"))
			case 2:
				_ = d.PutSign(rapid.SampledFrom(desk.Signs()).Draw(t, "sign").Key)
			case 3:
				_ = d.RemoveSign()
			case 4:
				_ = d.SetAccidental(rapid.SampledFrom([]string{"", "sharp", "flat", "natural"}).Draw(t, "accidental"), rapid.Bool().Draw(t, "below"))
			case 5:
				_ = d.Transpose(rapid.SampledFrom([]music.Interval{{Steps: 1, Semitones: 2}, {Steps: -1, Semitones: -1}, {Steps: 4, Semitones: 7}}).Draw(t, "interval"))
			case 6:
				d.Choose(rapid.IntRange(0, 3).Draw(t, "choice"))
			case 7:
				d.SetTradition(rapid.SampledFrom(realize.Traditions()).Draw(t, "tradition").Key)
			case 8:
				d.Undo()
			}
			again := desk.New("gigue", passageOf(gigue), realize.Taste{})
			again.Restore(d.Save())
			if again.Passage.Format() != d.Passage.Format() {
				t.Fatal("what was kept brings another passage")
			}
			if all(again) != all(d) || again.CanUndo() != d.CanUndo() || again.CanRedo() != d.CanRedo() {
				t.Fatal("what was kept brings another past")
			}
			if rapid.Bool().Draw(t, "reload") {
				d = again
			}
		}
		for d.CanRedo() {
			d.Redo()
		}
		last := all(d)
		undone := 0
		for d.CanUndo() {
			d.Undo()
			undone++
		}
		if d.Passage.Format() != first {
			t.Fatalf("undo ends elsewhere")
		}
		for range undone {
			d.Redo()
		}
		if all(d) != last || d.CanRedo() {
			t.Fatalf("redo ends elsewhere")
		}
	})
}

// Every ornament of the menu takes an accidental on its side, goes along when
// the passage is transposed, and each step is undone and done again.
func TestEverySignOfTheMenuIsAlteredTransposedAndTakenBack(t *testing.T) {
	for _, s := range desk.Signs() {
		t.Run(s.Key, func(t *testing.T) {
			d := open(t)
			d.StepNote(1)
			states := []string{d.Passage.Format()}
			do := func(err error) {
				require.NoError(t, err)
				require.NoError(t, d.Passage.Check())
				states = append(states, d.Passage.Format())
				require.NotEqual(t, states[len(states)-2], states[len(states)-1])
			}
			do(d.PutSign(s.Key))
			above := s.Small == nil || s.Small[0] > 0 || s.Small[len(s.Small)-1] > 0
			side := func() string {
				if above {
					return d.Carried().Above
				}
				return d.Carried().Below
			}
			was := side()
			word := "sharp"
			if was == word {
				word = "natural"
			}
			do(d.SetAccidental(word, !above))
			assert.Equal(t, word, side())
			o, ok := d.Ornament()
			require.True(t, ok)
			assert.NotEmpty(t, o.Choices[o.Chosen].Notes)
			do(d.Transpose(music.Interval{Steps: 1, Semitones: 2}))
			assert.Equal(t, s.Key, d.Carried().Sign+d.Carried().Small, "it goes along")
			do(d.RemoveSign())
			for i := len(states) - 2; i >= 0; i-- {
				require.True(t, d.CanUndo())
				d.Undo()
				assert.Equal(t, states[i], d.Passage.Format())
			}
			for _, state := range states[1:] {
				d.Redo()
				assert.Equal(t, state, d.Passage.Format())
			}
		})
	}
}
