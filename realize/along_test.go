package realize_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
)

func performed(t *testing.T, text string) (*score.Passage, *perf.Performance) {
	t.Helper()
	p, _, err := abc.Decode(text)
	require.NoError(t, err)
	return p, realize.Perform(realize.Read(p, realize.Taste{}), realize.PerformOptions{})
}

func listed(p *perf.Performance) []string {
	var out []string
	for _, n := range p.Notes {
		out = append(out, fmt.Sprintf("%v at %v for %v", n.Pitch, n.Onset, n.Dur))
	}
	return out
}

func TestAlongARepeatWithTwoEndings(t *testing.T) {
	p, played := performed(t, "M:2/4\nL:1/4\nQ:1/4=60\nK:C\n|: C D |1 E F- :|2 F2 |]\n")
	out := realize.Along(p, played, p.Road(score.RoadOptions{Repeats: true}))
	assert.Equal(t, music.Int(8), out.End)
	assert.Equal(t, []string{
		"C4 at 0 for 1", "D4 at 1 for 1", "E4 at 2 for 1", "F4 at 3 for 1", // the tie out of the ending is cut
		"C4 at 4 for 1", "D4 at 5 for 1", "F4 at 6 for 2",
	}, listed(out))
	assert.Equal(t, []perf.TempoChange{{QuartersPerMinute: 60}}, out.Tempo.Changes)
	assert.Len(t, out.Beats, 8)
}

// A note tied into both endings is struck once in each.
func TestAlongATieIntoBothEndings(t *testing.T) {
	p, played := performed(t, "M:2/4\nL:1/4\nQ:1/4=60\nK:C\n|: C D- |1 D E :|2 D2 |]\n")
	r, ok := p.Find("n5")
	require.True(t, ok)
	p.At(r).TieStop = true // as MusicXML has it
	out := realize.Along(p, played, p.Road(score.RoadOptions{Repeats: true}))
	assert.Equal(t, []string{"C4 at 0 for 1", "D4 at 1 for 2", "E4 at 3 for 1", "C4 at 4 for 1", "D4 at 5 for 3"}, listed(out))
}

// What is tied into the first measure of an excerpt is struck there.
func TestAlongATieFromBefore(t *testing.T) {
	p, played := performed(t, "M:2/4\nL:1/4\nQ:1/4=60\nK:C\nC D- | D E | F2 |]\n")
	assert.Equal(t, []string{"D4 at 0 for 1", "E4 at 1 for 1"}, listed(realize.Along(p, played, realize.Straight(1, 2))))
}

func TestAlongKeepsTheTempoOfThePlace(t *testing.T) {
	p, played := performed(t, "M:2/4\nL:1/4\nQ:1/4=60\nK:C\nC D | [Q:1/4=120] E F !D.C.!|]\n")
	out := realize.Along(p, played, p.Road(score.RoadOptions{Jumps: true}))
	assert.Equal(t, []perf.TempoChange{{QuartersPerMinute: 60}, {Onset: music.Int(2), QuartersPerMinute: 120},
		{Onset: music.Int(4), QuartersPerMinute: 60}, {Onset: music.Int(6), QuartersPerMinute: 120}}, out.Tempo.Changes)
	assert.InDelta(t, 6, out.Tempo.Seconds(out.End), 1e-9) // 2 s and 1 s, twice
}

// A small note before the beat of a measure goes with it.
func TestAlongSomeMeasures(t *testing.T) {
	p, played := performed(t, "M:2/4\nL:1/4\nQ:1/4=60\nK:C\nC D | E TG | A2 |]\n")
	out := realize.Along(p, played, realize.Straight(1, 2))
	assert.Equal(t, music.Int(2), out.End)
	assert.Equal(t, "E4 at 0 for 1", listed(out)[0])
	assert.Equal(t, 1, out.Beats[0].Measure)
}

// The whole road without signs is the performance itself.
func TestAlongTheWrittenOrder(t *testing.T) {
	p, played := performed(t, "M:2/4\nL:1/4\nQ:1/4=60\nK:C\n{d}C TD- | D {g}F | [Q:1/4=90] A2 |]\n")
	out := realize.Along(p, played, p.Road(score.RoadOptions{}))
	for i := range out.Notes {
		out.Notes[i].Leg = 0
	}
	assert.Equal(t, played.Notes, out.Notes)
	assert.Equal(t, played.Beats, out.Beats)
	assert.Equal(t, played.Tempo, out.Tempo)
	assert.Equal(t, played.End, out.End)
}

// A small note before a rolled chord strikes no key twice: the roll enters the
// other notes once.
func TestASmallNoteBeforeARolledChord(t *testing.T) {
	p, _, err := abc.Decode("M:3/4\nL:1/8\nQ:1/4=40\nK:C\nc4 {g/}!arpeggio![fa]2 |]\n")
	require.NoError(t, err)
	for _, o := range realize.Read(p, realize.Taste{Tradition: "french"}).Ornaments {
		for _, c := range o.Choices {
			struck := map[music.Pitch]int{}
			for _, n := range c.Notes {
				struck[n.Pitch]++
			}
			assert.Equal(t, 1, struck[music.MustPitch("F5")], c.Name)
		}
	}
}
