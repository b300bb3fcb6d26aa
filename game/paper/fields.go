// Package paper is the form by which one place in a piece on paper becomes a
// passage: what its fields offer, what they hold, and what comes of them. It
// is pure; the page shows the fields and keeps what they hold.
package paper

import (
	"strconv"

	"agremens/game/desk"
	"agremens/realize/music"
	"agremens/realize/sketch"
)

// Option is one thing a field can hold.
type Option struct{ Key, Label, Group string }

// Field is one field of the form. Without options any text is taken.
type Field struct {
	Name    string
	Options []Option
	first   string // what it holds to begin with
}

// lowest and highest are the places of a keyboard's compass that are offered,
// as music.Pitch.Diatonic counts: F1 to G6.
const lowest, highest = 10, 46

// Fields returns the fields in the order of the form; n is how notes are called.
func Fields(n music.Naming) []Field {
	return []Field{
		{"name", nil, ""},
		{"key", keys(n), "1 major"},
		{"metre", plain("4/4", "2/2", "3/4", "2/4", "3/8", "6/8", "9/8", "12/8", "3/2", "6/4"), "3/4"},
		{"tempo", nil, ""},
		{"year", []Option{
			{"", "I do not know", ""}, {"1690", "before 1700", ""}, {"1715", "1700 to 1730", ""}, {"1745", "1730 to 1760", ""},
			{"1775", "1760 to 1790", ""}, {"1800", "1790 to 1815", ""}, {"1835", "after 1815", ""},
		}, ""},
		{"note", places(n), "B4"},
		{"alter", alterations(), ""},
		{"value", values(), "quarter"},
		{"dot", plain("", "on"), ""},
		{"tied", append([]Option{{"", "no tie", ""}}, values()...), ""},
		{"before", neighbours(), "1"},
		{"before-alter", alterations(), ""},
		{"slur-before", plain("", "on"), ""},
		{"after", neighbours(), "-1"},
		{"after-alter", alterations(), ""},
		{"slur-after", plain("", "on"), ""},
		{"sign", signs(), "trill"},
		{"accidental", []Option{{"", "none", ""}, {"sharp", "♯", ""}, {"natural", "♮", ""}, {"flat", "♭", ""}}, ""},
		{"side", []Option{{"above", "above the sign", ""}, {"below", "below the sign", ""}}, "above"},
		{"beneath", beneath(), "quarters"},
		{"bass", append([]Option{{"", "let the key choose", ""}}, places(n)...), ""},
	}
}

func plain(keys ...string) []Option {
	var out []Option
	for _, k := range keys {
		out = append(out, Option{k, k, ""})
	}
	return out
}

// keys offers each signature as major and minor, few accidentals first.
func keys(n music.Naming) []Option {
	var out []Option
	for _, mode := range []struct {
		mode music.Mode
		word string
	}{{music.Major, "major"}, {music.Minor, "minor"}} {
		for _, fifths := range []int8{0, 1, -1, 2, -2, 3, -3, 4, -4, 5, -5, 6, -6} {
			k := music.Key{Fifths: fifths, Mode: mode.mode}
			step, alter := k.Tonic()
			name := n.Name(music.Pitch{Step: step, Alter: int8(alter)})
			out = append(out, Option{strconv.Itoa(int(fifths)) + " " + mode.word, name + " " + mode.word, mode.word})
		}
	}
	return out
}

// places offers the letters of the keyboard, from high to low as on a staff.
func places(called music.Naming) []Option {
	var out []Option
	for n := highest; n >= lowest; n-- {
		p := music.FromDiatonic(n, 0)
		out = append(out, Option{p.String(), called.Name(p) + strconv.Itoa(int(p.Octave)), ""})
	}
	return out
}

func alterations() []Option {
	return []Option{{"", "as in the key", ""}, {"1", "♯", ""}, {"0", "♮", ""}, {"-1", "♭", ""}, {"2", "×", ""}, {"-2", "♭♭", ""}}
}

func values() []Option {
	return []Option{{"whole", "whole", ""}, {"half", "half", ""}, {"quarter", "quarter", ""}, {"eighth", "eighth", ""}, {"16th", "sixteenth", ""}}
}

// neighbours offers what may stand beside the note, the steps first.
func neighbours() []Option {
	return []Option{
		{"", "none", ""}, {"1", "a step above", ""}, {"-1", "a step below", ""}, {"0", "the same note", ""},
		{"2", "a third above", ""}, {"-2", "a third below", ""}, {"3", "a fourth above", ""}, {"-3", "a fourth below", ""},
		{"4", "a fifth above", ""}, {"-4", "a fifth below", ""}, {"5", "a sixth above", ""}, {"-5", "a sixth below", ""},
		{"7", "an octave above", ""}, {"-7", "an octave below", ""},
	}
}

func signs() []Option {
	var out []Option
	for _, s := range desk.Signs() {
		out = append(out, Option{s.Key, s.Name, ""})
	}
	return out
}

func beneath() []Option {
	var out []Option
	for _, r := range sketch.Rhythms() {
		out = append(out, Option{r.Name, r.Name, ""})
	}
	return out
}
