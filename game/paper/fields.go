// Package paper is the form by which one place in a piece on paper becomes a
// passage: what its fields offer, what they hold, and what comes of them. It
// is pure; the page shows the fields and keeps what they hold.
package paper

import (
	"strconv"

	"agremens/game/desk"
	"agremens/realize/music"
	"agremens/realize/sketch"
	"agremens/realize/words"
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

// Fields returns the fields in the order of the form; n is how notes are
// called, c the language.
func Fields(n music.Naming, c *words.Catalogue) []Field {
	return []Field{
		{"name", nil, ""},
		{"key", keys(n, c), "1 major"},
		{"metre", plain("4/4", "2/2", "3/4", "2/4", "3/8", "6/8", "9/8", "12/8", "3/2", "6/4"), "3/4"},
		{"tempo", nil, ""},
		{"year", []Option{
			{"", c.Say("I do not know"), ""}, {"1690", c.Say("before 1700"), ""}, {"1715", c.Say("1700 to 1730"), ""}, {"1745", c.Say("1730 to 1760"), ""},
			{"1775", c.Say("1760 to 1790"), ""}, {"1800", c.Say("1790 to 1815"), ""}, {"1835", c.Say("after 1815"), ""},
		}, ""},
		{"note", places(n), "B4"},
		{"alter", alterations(c), ""},
		{"value", values(c), "quarter"},
		{"dot", plain("", "on"), ""},
		{"tied", append([]Option{{"", c.Say("no tie"), ""}}, values(c)...), ""},
		{"before", neighbours(c), "1"},
		{"before-alter", alterations(c), ""},
		{"slur-before", plain("", "on"), ""},
		{"after", neighbours(c), "-1"},
		{"after-alter", alterations(c), ""},
		{"slur-after", plain("", "on"), ""},
		{"sign", signs(c), "trill"},
		{"accidental", []Option{{"", c.Say("none"), ""}, {"sharp", "♯", ""}, {"natural", "♮", ""}, {"flat", "♭", ""}}, ""},
		{"side", []Option{{"above", c.Say("above the sign"), ""}, {"below", c.Say("below the sign"), ""}}, "above"},
		{"beneath", beneath(c), "quarters"},
		{"bass", append([]Option{{"", c.Say("let the key choose"), ""}}, places(n)...), ""},
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
func keys(n music.Naming, c *words.Catalogue) []Option {
	var out []Option
	for _, mode := range []struct {
		mode             music.Mode
		word, key, group string
	}{
		{music.Major, "major", c.Say("{tonic} major"), c.Say("major")},
		{music.Minor, "minor", c.Say("{tonic} minor"), c.Say("minor")},
	} {
		for _, fifths := range []int8{0, 1, -1, 2, -2, 3, -3, 4, -4, 5, -5, 6, -6} {
			k := music.Key{Fifths: fifths, Mode: mode.mode}
			step, alter := k.Tonic()
			name := n.Name(music.Pitch{Step: step, Alter: int8(alter)})
			if mode.mode == music.Minor {
				name = desk.MinorTonic(name, c)
			}
			out = append(out, Option{strconv.Itoa(int(fifths)) + " " + mode.word, words.Fill(mode.key, "{tonic}", name), mode.group})
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

func alterations(c *words.Catalogue) []Option {
	return []Option{{"", c.Say("as in the key"), ""}, {"1", "♯", ""}, {"0", "♮", ""}, {"-1", "♭", ""}, {"2", "×", ""}, {"-2", "♭♭", ""}}
}

func values(c *words.Catalogue) []Option {
	return []Option{{"whole", c.Say("whole"), ""}, {"half", c.Say("half"), ""}, {"quarter", c.Say("quarter"), ""}, {"eighth", c.Say("eighth"), ""}, {"16th", c.Say("sixteenth"), ""}}
}

// neighbours offers what may stand beside the note, the steps first.
func neighbours(c *words.Catalogue) []Option {
	return []Option{
		{"", c.Say("none"), ""}, {"1", c.Say("a step above"), ""}, {"-1", c.Say("a step below"), ""}, {"0", c.Say("the same note"), ""},
		{"2", c.Say("a third above"), ""}, {"-2", c.Say("a third below"), ""}, {"3", c.Say("a fourth above"), ""}, {"-3", c.Say("a fourth below"), ""},
		{"4", c.Say("a fifth above"), ""}, {"-4", c.Say("a fifth below"), ""}, {"5", c.Say("a sixth above"), ""}, {"-5", c.Say("a sixth below"), ""},
		{"7", c.Say("an octave above"), ""}, {"-7", c.Say("an octave below"), ""},
	}
}

func signs(c *words.Catalogue) []Option {
	var out []Option
	for _, s := range desk.Signs() {
		out = append(out, Option{s.Key, c.Say(s.Name), ""})
	}
	return out
}

func beneath(c *words.Catalogue) []Option {
	var out []Option
	for _, r := range sketch.Rhythms() {
		out = append(out, Option{r.Name, c.Say(r.Name), ""})
	}
	return out
}
