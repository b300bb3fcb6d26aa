package realize_test

import (
	"bufio"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize"
	"agremens/realize/codec/kern"
	"agremens/realize/codec/musicxml"
	"agremens/realize/music"
	"agremens/realize/score"
)

// TestNeighboursOfEditors holds the upper neighbours of trills, short trills
// and turns, and both steps of turns, against the intervals that the editors
// of four Humdrum editions state with their signs. The signs are read without
// them. Every place where ours is another was looked at: who is right stands in
// testdata/neighbours.txt, and the list must be these places and no others.
func TestNeighboursOfEditors(t *testing.T) {
	if testing.Short() {
		t.Skip("read in full natively")
	}
	root := filepath.Dir(filepath.Dir(referenceScores(t)[0]))
	files, err := filepath.Glob(filepath.Join(root, "kern", "*", "*.krn"))
	require.NoError(t, err)
	if len(files) == 0 {
		t.Skip("no Humdrum editions")
	}
	uppers, same, turns, filled, slips := 0, 0, 0, 0, 0
	reviewed, missed := reviewedNeighbours(t), map[string]bool{}
	for _, f := range files {
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		printed, err := kern.Decode(data, kern.Options{AsPrinted: true})
		require.NoError(t, err, f)
		edition, err := kern.Decode(data, kern.Options{})
		require.NoError(t, err, f)
		r := realize.Read(printed.Passage, realize.Taste{})
		for i := range r.Ornaments {
			o := &r.Ornaments[i]
			ref, ok := edition.Passage.Find(o.Note)
			require.True(t, ok)
			c := &edition.Passage.Chords[ref.Chord]
			for k := range c.Signs {
				s := &c.Signs[k]
				up, down := stated(s, o.Principal)
				if s.Note != ref.Note || up == 0 {
					continue
				}
				uppers++
				hit := o.Principal.To(o.Upper).Semitones == up
				if hit {
					same++
				}
				if down > 0 {
					turns++
					if hit = hit && lowestStep(o) == down; hit {
						filled++
					}
				}
				if hit {
					continue
				}
				place := filepath.Base(filepath.Dir(f)) + "/" + filepath.Base(f) + " " + edition.Passage.Measures[c.Measure].Number
				missed[place] = true
				if down > 0 && strings.HasPrefix(reviewed[place], "ours") {
					slips++
				}
				t.Logf("%s: %s on %v in %v: ours %v and %v, the editor's %d up, %d down. %s", place,
					s.Kind, o.Principal, o.Key, o.Upper, o.Lower, up, down, reviewed[place])
				assert.Contains(t, reviewed, place, "nobody has looked at it")
			}
		}
	}
	for place := range reviewed {
		assert.Contains(t, missed, place, "ours is the editor's now")
	}
	t.Logf("%d of %d upper neighbours, %d of %d turns are the editors'; %d of these turns contradict what the edition itself prints", same, uppers, filled, turns, slips)
	assert.GreaterOrEqual(t, float64(same)/float64(uppers), .99)
	assert.GreaterOrEqual(t, float64(filled)/float64(turns-slips), .96)
}

// reviewedNeighbours reads the places that were looked at: who is right, and
// why.
func reviewedNeighbours(t *testing.T) map[string]string {
	t.Helper()
	text, err := os.ReadFile("testdata/neighbours.txt")
	require.NoError(t, err)
	out := map[string]string{}
	for _, line := range strings.Split(strings.TrimSpace(string(text)), "\n") {
		if strings.HasPrefix(line, "#") {
			continue
		}
		parts := strings.SplitN(line, " ", 4)
		require.Len(t, parts, 4, line)
		require.Contains(t, []string{"ours", "theirs", "either"}, parts[2], line)
		out[parts[0]+" "+parts[1]] = parts[2] + ": " + parts[3]
	}
	return out
}

// stated returns the steps a sign's edition states, in semitones, 0 for none.
func stated(s *score.Sign, p music.Pitch) (up, down int) {
	size := map[string]int{"half": 1, "whole": 2}
	up, down = size[s.Sound.TrillStep], size[s.Sound.TwoNoteTurn]
	for _, a := range s.Accidentals {
		alter, known := score.Alter(a.Value)
		switch {
		case known && a.Below:
			down = p.MIDI() - music.FromDiatonic(p.Diatonic()-1, alter).MIDI()
		case known:
			up = music.FromDiatonic(p.Diatonic()+1, alter).MIDI() - p.MIDI()
		}
	}
	return up, down
}

// lowestStep is how far below the principal the first choice goes, in semitones.
func lowestStep(o *realize.Ornament) int {
	for _, n := range o.Choices[o.Chosen].Notes {
		if n.Degree == -1 {
			return n.Pitch.To(o.Principal).Semitones
		}
	}
	return 0
}

// TestNoDiminishedThird: whatever the score, no choice of a turn has semitones
// on both sides unless the sign, small notes or the line ask for them. With
// AGREMENS_NEIGHBOURS=FILE it writes a table of every ornament's neighbours.
func TestNoDiminishedThird(t *testing.T) {
	if testing.Short() {
		t.Skip("read in full natively")
	}
	files := referenceScores(t)
	second, err := filepath.Glob(filepath.Join(filepath.Dir(filepath.Dir(files[0])), "second", "scores", "*.musicxml"))
	require.NoError(t, err)
	var table *bufio.Writer
	if name := os.Getenv("AGREMENS_NEIGHBOURS"); name != "" {
		f, err := os.Create(name)
		require.NoError(t, err)
		defer f.Close()
		table = bufio.NewWriter(f)
		defer table.Flush()
	}
	for _, f := range append(files, second...) {
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		res, err := musicxml.Decode(data, nil)
		if err != nil {
			t.Logf("%s: %v", filepath.Base(f), err)
			continue
		}
		r := realize.Read(res.Passage, realize.Taste{})
		for i := range r.Ornaments {
			o := &r.Ornaments[i]
			if table != nil && !strings.HasPrefix(o.Figure, "small-note") && o.Figure != "arpeggio" {
				fmt.Fprintf(table, "%s\t%s\t%s\t%v\t%v\tup %v\tdown %v\tfirst %s\t%s | %s\n", filepath.Base(f), res.Passage.Measures[o.Measure].Number,
					o.Figure, o.Principal, o.Key, o.Upper, o.Lower, pitches(o), lettersAround(res.Passage, o, o.Upper.Step), lettersAround(res.Passage, o, o.Lower.Step))
			}
			if !strings.Contains(o.Figure, "turn") || len(o.Graces) > 0 || hasAccidental(res.Passage, o) {
				continue
			}
			for _, c := range o.Choices {
				up, down := 0, 0
				for _, n := range c.Notes {
					switch n.Degree {
					case 1:
						up = o.Principal.To(n.Pitch).Semitones
					case -1:
						down = n.Pitch.To(o.Principal).Semitones
					}
				}
				assert.False(t, up == 1 && down == 1, "%s, measure %s: %s on %v", filepath.Base(f), res.Passage.Measures[o.Measure].Number, c.Key, o.Principal)
			}
		}
	}
}

func hasAccidental(p *score.Passage, o *realize.Ornament) bool {
	for _, s := range p.Chords[o.Ref.Chord].Signs {
		if len(s.Accidentals) > 0 {
			return true
		}
	}
	return false
}

func pitches(o *realize.Ornament) string {
	var out []string
	for _, n := range o.Choices[o.Chosen].Notes {
		out = append(out, n.Pitch.String())
		if len(out) == 7 {
			break
		}
	}
	return strings.Join(out, " ")
}

// lettersAround lists where a letter stands in the bar before, the bar and the
// next, with its distance in quarters; a star is the ornament's own voice.
func lettersAround(p *score.Passage, o *realize.Ornament, letter music.Step) string {
	from, to := p.Measures[max(0, o.Measure-1)].Onset, p.Measures[min(len(p.Measures)-1, o.Measure+1)].End()
	var out []string
	for i := p.FirstAt(from); i < len(p.Chords) && p.Chords[i].Onset.Less(to); i++ {
		c := &p.Chords[i]
		for j := range c.Notes {
			if c.Notes[j].Pitch.Step == letter {
				own := ""
				if c.Voice == o.Voice {
					own = "*"
				}
				out = append(out, fmt.Sprintf("%v%s@%v", c.Notes[j].Pitch, own, c.Onset.Sub(o.Onset)))
			}
		}
	}
	return strings.Join(out, " ")
}
