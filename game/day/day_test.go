package day_test

import (
	"strings"
	"testing"

	"agremens/game/day"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The order is that of the ten minutes: listen, plain, ornament,
// without help, at the piano, last page.
func TestOrder(t *testing.T) {
	d := day.Start()
	var order []day.Key
	minutes := 0
	for !d.Over() {
		order = append(order, d.Current().Key)
		minutes += d.Current().Minutes
		d = d.Next()
	}
	assert.Equal(t, []day.Key{day.Listen, day.Plain, day.Ornament, day.Unaided, day.Piano}, order)
	assert.Equal(t, 10, minutes)
	assert.Equal(t, d, d.Next(), "after the end nothing follows")
	assert.Empty(t, d.Button(nil))
}

func TestOneButton(t *testing.T) {
	cases := []struct {
		name   string
		rounds []day.Done
		step   int // steps before
		button string
		says   string
	}{
		{"at first", nil, 0, "Listen", "1 of 5, listen. "},
		{"heard", []day.Done{{Seconds: 20}}, 0, "Next: plain notes", "Once more if you like"},
		{"tapping is no listening", []day.Done{{Tapped: true, Seconds: 20}}, 0, "Listen", "1 of 5"},
		{"plain notes", []day.Done{{Tapped: true, Plain: true}}, 1, "Next: with ornaments", "Again if you like"},
		{"ornaments are no plain notes", []day.Done{{Tapped: true}}, 1, "Tap the plain notes", ""},
		{"two clean rounds", []day.Done{{Tapped: true, Clean: true}, {Tapped: true, Clean: true}}, 2, "Next: without help", "Two clean rounds"},
		{"long enough", []day.Done{{Tapped: true, Seconds: 130}, {Tapped: true, Seconds: 130}}, 2, "Next: without help", "enough of this for today"},
		{"with help where none was asked for", []day.Done{{Tapped: true}}, 3, "Tap without help", ""},
		{"without help", []day.Done{{Tapped: true, Unaided: true}}, 3, "Next: at the piano", ""},
		{"at the piano", []day.Done{{Piano: true, Seconds: 60}}, 4, "To the end of today", ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			d := day.Start()
			for range c.step {
				d = d.Next()
			}
			for _, r := range c.rounds {
				d = d.After(r)
			}
			assert.Equal(t, c.button, d.Button(nil))
			assert.Contains(t, d.Line(nil), c.says)
		})
	}
}

func TestTheEndIsAlwaysAtHand(t *testing.T) {
	d := day.Start().After(day.Done{Seconds: 61}).Finish()
	assert.True(t, d.Over())
	assert.Equal(t, 2, d.Minutes())
	assert.False(t, day.Day{}.Finish().Over(), "where none began none ends")
}

// A day kept comes back on the same date, and on no other: nobody is told of
// days that were missed.
func TestKept(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := day.Start()
		for range rapid.IntRange(0, 12).Draw(t, "what happens") {
			if rapid.Bool().Draw(t, "go on") {
				d = d.Next()
				continue
			}
			d = d.After(day.Done{
				Tapped: rapid.Bool().Draw(t, "tapped"), Plain: rapid.Bool().Draw(t, "plain"), Clean: rapid.Bool().Draw(t, "clean"),
				Seconds: rapid.IntRange(0, 600).Draw(t, "seconds"),
			})
		}
		line := d.Encode(20000)
		require.Equal(t, d, day.Decode(line, 20000))
		require.Equal(t, day.Day{}, day.Decode(line, 20001))
	})
	assert.Empty(t, day.Day{}.Encode(1))
	for _, line := range []string{"", "day1", "day1 1 2 3 4 5 6", "day1 1 4 0 0 0 0 0 echo", "day1 1 9 0 0 0 0 0", "day1 1 1 2 0 0 0 0", "day1 1 -1 0 0 0 0 0", "day1 1 x 0 0 0 0 0"} {
		assert.Equal(t, day.Day{}, day.Decode(line, 1), line)
	}
}

// Never a word of blame or praise (teaching notes).
func TestWords(t *testing.T) {
	for _, s := range day.Steps() {
		for _, word := range []string{"wrong", "failed", "bad", "missed", "great", "well done", "streak"} {
			assert.NotContains(t, strings.ToLower(s.Name+s.Deed+s.Ask), word)
		}
	}
}

// A round that does not count takes its time and is no round of the step.
func TestASpoiltRoundIsOnlyTime(t *testing.T) {
	d := day.Start().Next().Next()
	require.Equal(t, day.Ornament, d.Current().Key)
	after := d.After(day.Done{Tapped: true, Spoilt: true, Seconds: 30})
	assert.Equal(t, 30, after.All)
	assert.False(t, after.Tried)
	assert.Zero(t, after.Rounds+after.Seconds)
	assert.True(t, d.After(day.Done{Tapped: true, Seconds: 30}).Tried)
}
