package codec_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/codec/musicxml"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
)

// drawVoice draws the bars of a voice in 3/4, filled with notes, rests,
// chords, triplets, small notes, signs, ties, slurs and articulations.
func drawVoice(t *rapid.T, name string, letters []string, bars int) []string {
	var out []string
	letter := rapid.SampledFrom(letters)
	one := func(prefix, length string) string {
		note := letter.Draw(t, name+" pitch")
		if second := letter.Draw(t, name+" second"); rapid.IntRange(0, 7).Draw(t, "chord") == 0 && strings.Trim(second, "^_=") != strings.Trim(note, "^_=") {
			note = "[" + note + second + "]"
		}
		return prefix + note + length
	}
	pick := func(label string, many int, from ...string) string {
		if rapid.IntRange(0, many).Draw(t, label) != 0 {
			return ""
		}
		return rapid.SampledFrom(from).Draw(t, label+" which")
	}
	for range bars {
		var b strings.Builder
		slurred := rapid.IntRange(0, 4).Draw(t, "slur") == 0
		if slurred {
			b.WriteString("(")
		}
		for left := 12; left > 0; { // sixteenths
			small := pick("small", 5, "{g}", "{/f}", "{ga}", "{[ce]d}")
			sign := pick("sign", 3, "T", "P", "M", "!turn!", "!delayedturn!", `"^#"T`, `"_b"M`, "!slide!", "!arpeggio!", "!longmordent!")
			artic := pick("artic", 6, ".", "!tenuto!", "!accent!", "!fermata!", "!3!", "!breath!")
			switch kind := rapid.IntRange(0, 9).Draw(t, "kind"); {
			case kind == 0:
				b.WriteString("z")
				left -= 1
			case kind == 1 && left >= 4:
				b.WriteString(fmt.Sprintf("(3%s2%s2%s2", one(small+sign, ""), one("", ""), one(artic, "")))
				left -= 4
			default:
				length := min(left, rapid.SampledFrom([]int{1, 2, 3, 4, 6, 8}).Draw(t, "length"))
				tie := ""
				if left > length {
					tie = pick("tie", 8, "-")
				}
				b.WriteString(one(small+sign+artic, fmt.Sprint(length)) + tie)
				left -= length
			}
			b.WriteString(pick("blank", 1, " "))
		}
		if slurred {
			b.WriteString(")")
		}
		out = append(out, b.String())
	}
	return out
}

// drawScore draws two staves, the upper one of two voices now and then.
func drawScore(t *rapid.T) *score.Passage {
	key := rapid.SampledFrom([]string{"C", "G", "F", "Bb", "Am", "Em", "Ddor", "Ab", "E"}).Draw(t, "key")
	bars := rapid.IntRange(1, 3).Draw(t, "bars")
	voices := []string{"1", "2"}
	layout := "{1 2}"
	if rapid.IntRange(0, 2).Draw(t, "three voices") == 0 {
		voices, layout = []string{"1", "3", "2"}, "{(1 3) 2}"
	}
	var b strings.Builder
	fmt.Fprintf(&b, "X:1\nT:Drawn\nM:3/4\nL:1/16\nQ:\"Andante\" 1/4=%d\n%%%%score %s\nV:1 clef=treble\nV:2 clef=bass\nK:%s\n", rapid.IntRange(40, 160).Draw(t, "tempo"), layout, key)
	lines := map[string][]string{}
	for _, v := range voices {
		letters := []string{"c", "d", "e", "f", "g", "a", "^f", "_b", "=f", "A", "B"}
		if v == "2" {
			letters = []string{"C,", "D,", "E,", "F,", "G,", "A,,", "^C,", "_E,", "C"}
		}
		lines[v] = drawVoice(t, "voice "+v, letters, bars)
	}
	repeat := rapid.IntRange(0, 3).Draw(t, "repeat") == 0
	for _, v := range voices {
		fmt.Fprintf(&b, "[V:%s] ", v)
		for i, bar := range lines[v] {
			line := " | "
			switch {
			case i == bars-1 && repeat:
				line = " :|"
			case i == bars-1:
				line = " |]"
			}
			b.WriteString(bar + line)
		}
		b.WriteString("\n")
	}
	p, _, err := abc.Decode(b.String())
	if err != nil {
		t.Skip("not a text: ", err)
	}
	return p
}

// TestDrawnScoresKeepTheirSigns: a passage written and opened again is the
// same, as MusicXML and as ABC.
func TestDrawnScoresKeepTheirSigns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawScore(t)
		text, err := musicxml.Encode(p)
		require.NoError(t, err)
		r, err := musicxml.Decode(text, nil)
		require.NoError(t, err)
		require.Empty(t, firstDifference(p.Format(), r.Passage.Format()), "as MusicXML")
		q, _, err := abc.Decode(abc.Encode(p))
		require.NoError(t, err)
		require.Empty(t, firstDifference(p.Format(), q.Format()), "as ABC:\n%s", abc.Encode(p))
	})
}

// firstDifference shows the first line in which two texts differ.
func firstDifference(want, got string) string {
	a, b := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range max(len(a), len(b)) {
		if i >= len(a) || i >= len(b) || a[i] != b[i] {
			return fmt.Sprintf("want %q, got %q", a[min(i, len(a)-1)], b[min(i, len(b)-1)])
		}
	}
	return ""
}

// played lists what sounds, each key once at an onset.
func played(p *perf.Performance, lead music.Frac) []string {
	var out []string
	for _, n := range p.Notes {
		out = append(out, fmt.Sprintf("%v: %d for %v, hand %d", n.Onset.Sub(lead), n.Pitch.MIDI(), n.Dur, n.Hand))
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// TestDrawnScoresPlayAsWrittenOut: a reading written out and opened again
// plays what the reading plays, without an ornament left.
func TestDrawnScoresPlayAsWrittenOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		taste := realize.Taste{
			Tradition: rapid.SampledFrom([]string{"bach", "french", "berlin", "vienna"}).Draw(t, "tradition"),
			Prefer:    rapid.SampledFrom([]realize.Preference{realize.Sources, realize.Performers}).Draw(t, "prefer"),
		}
		reading := realize.Read(drawScore(t), taste)
		text, err := musicxml.EncodeRealized(reading)
		require.NoError(t, err)
		r, err := musicxml.Decode(text, nil)
		require.NoError(t, err)
		again := realize.Read(r.Passage, realize.Taste{})
		require.Empty(t, again.Ornaments, "ornaments left")
		lead := r.Passage.End().Sub(reading.Passage.End())
		want := played(realize.Perform(reading, realize.PerformOptions{}), music.Frac{})
		got := played(realize.Perform(again, realize.PerformOptions{}), lead)
		require.Equal(t, strings.Join(want, "\n"), strings.Join(got, "\n"), "%s", abc.Encode(reading.Passage))
	})
}
