package lesson_test

import (
	"fmt"
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/assets"
	"agremens/game/desk"
	"agremens/game/lesson"
	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/codec/packet"
	"agremens/realize/score"
)

var instruments = []string{"harpsichord", "fortepiano", "click"}

func deskOf(t testing.TB, e assets.Entry) *desk.Desk {
	p, _, err := abc.Decode(e.ABC)
	require.NoError(t, err)
	return desk.New(e.ID, p, realize.Taste{})
}

// sounding is what is heard in the chosen bars, counted from their start.
func sounding(d *desk.Desk) string {
	from, to := d.Passage.Measures[d.From].Onset, d.Passage.Measures[d.To-1].End()
	var lines []string
	for _, n := range d.Sounding().Notes {
		if n.Onset.Less(from) || !n.Onset.Less(to) {
			continue
		}
		lines = append(lines, fmt.Sprint(n.Onset.Sub(from), " ", n.Dur, " ", n.Pitch, " hand ", n.Hand, " ", n.Index, " ", n.Measured))
	}
	sort.Strings(lines)
	return strings.Join(lines, "\n")
}

// send takes a desk's task through its letters to the student's desk.
func send(t *testing.T, d *desk.Desk, w lesson.Wish) (*lesson.Homework, string) {
	task, err := lesson.Set(d, w)
	require.NoError(t, err)
	letters := packet.EncodeTask(task)
	got, err := packet.DecodeTask(letters)
	require.NoError(t, err)
	h, said, err := lesson.Open(got, instruments, nil)
	require.NoError(t, err)
	assert.Empty(t, said)
	return h, letters
}

// Her own taps go along with the ornaments that do, whatever bars they are in.
func TestTheTeachersTaps(t *testing.T) {
	d := deskOf(t, assets.Passages()[0])
	taps := map[string]packet.Taps{}
	for i := range d.Reading.Ornaments {
		taps[d.Reading.Ornaments[i].ID] = packet.Taps{Tempo: 60, Late: fmt.Sprint(i)}
	}
	require.NoError(t, d.SetBars("3-4"))
	h, letters := send(t, d, lesson.Wish{Taps: taps})
	require.NotEmpty(t, h.Task.Taps)
	assert.Less(t, len(h.Task.Taps), len(taps), "the bars that stay at home keep theirs")
	for _, p := range h.Task.Taps {
		there := &h.Desk.Reading.Ornaments[p.Ornament]
		var at int
		_, err := fmt.Sscan(p.Late, &at)
		require.NoError(t, err)
		here := &d.Reading.Ornaments[at]
		assert.Equal(t, here.Signs, there.Signs)
		assert.Equal(t, here.Principal, there.Principal)
	}
	_, without := send(t, d, lesson.Wish{})
	t.Logf("%d letters of %d", len(letters)-len(without), len(letters))
}

// What the teacher decided is what the student hears: each choice of each
// ornament in each built-in passage.
func TestDecisionsArrive(t *testing.T) {
	for _, e := range assets.Passages() {
		t.Run(e.ID, func(t *testing.T) {
			d := deskOf(t, e)
			d.Tap = 2
			d.SetInstrument("click")
			d.SetPercent(70)
			for turn := range 6 {
				for _, i := range d.Inside() {
					d.Select(i)
					d.Choose((turn + i) % len(d.Reading.Ornaments[i].Choices))
				}
				h, _ := send(t, d, lesson.Wish{Words: "Slowly.", Kinds: []string{"echo"}})
				assert.Equal(t, sounding(d), sounding(h.Desk))
				assert.Equal(t, d.Bars(), h.Desk.Bars())
				assert.Equal(t, d.Beats(), h.Desk.Beats())
				assert.Equal(t, d.Tap, h.Desk.Tap)
				assert.Equal(t, "click", h.Desk.Instrument)
				assert.Empty(t, h.Free)
			}
		})
	}
}

func TestSomeBarsAndFreeChoices(t *testing.T) {
	for _, e := range assets.Passages() {
		d := deskOf(t, e)
		require.NoError(t, d.SetBars("3-5"))
		free := map[score.ID]bool{}
		for k, i := range d.Inside() {
			if k%2 == 0 {
				free[d.Reading.Ornaments[i].Note] = true
			}
		}
		h, _ := send(t, d, lesson.Wish{Free: free})
		assert.Equal(t, sounding(d), sounding(h.Desk), e.ID)
		assert.Len(t, h.Free, len(free))
		for note := range h.Free {
			_, ok := h.Desk.Passage.Find(note)
			assert.True(t, ok)
		}
	}
}

// A realization of the teacher's own goes along, and what the rules think of
// it later does not touch it.
func TestOwnGoesAlong(t *testing.T) {
	d := deskOf(t, assets.Passages()[1])
	o := d.Reading.Ornaments[0]
	mine, err := o.Choices[len(o.Choices)-1].Edited(o.Principal, realize.Edit{First: 1})
	require.NoError(t, err)
	d2 := desk.New("trill", d.Passage, realize.Taste{Own: map[score.ID]realize.Own{o.Note: {Notes: mine.Notes, Why: "as I was taught"}},
		Chosen: map[score.ID]string{o.Note: "own"}})
	h, _ := send(t, d2, lesson.Wish{})
	assert.Equal(t, sounding(d2), sounding(h.Desk))
}

// What differs on the repeat, and the fingers, go along too.
func TestPassesAndFingersGoAlong(t *testing.T) {
	p, _, err := abc.Decode("X:1\nC:J. S. Bach\nM:4/4\nL:1/4\nQ:1/4=72\nK:C\n|: e Td2 c | e Td2 c :|\n")
	require.NoError(t, err)
	d := desk.New("x", p, realize.Taste{})
	d.Choose(1)
	d.ChooseInPass(2, 2)
	o, _ := d.Ornament()
	digits := strings.Repeat("32", len(o.Choices[1].Notes))[:len(o.Choices[1].Notes)]
	require.NoError(t, d.SetFingers(digits))
	d.Follow = score.RoadOptions{Repeats: true}
	h, _ := send(t, d, lesson.Wish{})
	got, _ := h.Desk.Ornament()
	assert.Equal(t, d.Follow, h.Desk.Follow, "the repeat is played there too")
	assert.Equal(t, o.Passes, got.Passes)
	assert.Equal(t, d.Fingers(), h.Desk.Fingers())
}

func TestBrokenTasks(t *testing.T) {
	task, err := lesson.Set(deskOf(t, assets.Passages()[0]), lesson.Wish{})
	require.NoError(t, err)
	broken := task
	broken.Score = "this is no music"
	_, _, err = lesson.Open(broken, instruments, nil)
	assert.ErrorIs(t, err, lesson.ErrScore)

	odd := task
	odd.Decisions = []packet.Decision{{Ornament: 0, Choice: "of.tomorrow"}, {Ornament: 900, Choice: "plain"}, {Ornament: 1, Own: "own\nnonsense"}}
	odd.Free, odd.Bars, odd.Instrument, odd.Hand = []int{0, 900}, "99", "tuba", "third"
	h, said, err := lesson.Open(odd, instruments, nil)
	require.NoError(t, err, "what is understood is opened")
	assert.Len(t, said, 6)
	assert.Len(t, h.Free, 1)
}
