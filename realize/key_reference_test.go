package realize_test

import (
	"bufio"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize"
	"agremens/realize/codec/musicxml"
	"agremens/realize/music"
	"agremens/realize/score"
)

// marked is a line of the experts' annotation: the local key from there on,
// and the cadence that is reached.
type marked struct {
	measure int
	onset   music.Frac // in its measure
	key     music.Key
	cadence string
}

// annotated is a score with its experts' keys and the ornaments we read.
type annotated struct {
	name    string
	p       *score.Passage
	lines   []marked
	reading *realize.Reading
	shares  realize.KeyShares
}

func leading(number string) (int, bool) {
	end := strings.IndexFunc(number, func(r rune) bool { return r < '0' || r > '9' })
	if end >= 0 {
		number = number[:end]
	}
	n, err := strconv.Atoi(number)
	return n, err == nil
}

func parseKey(t *testing.T, text string) music.Key {
	name, mode, _ := strings.Cut(text, " ")
	want := music.MustPitch(name + "4")
	for _, m := range []music.Mode{music.Major, music.Minor} {
		for f := int8(-14); f <= 14; f++ {
			k := music.Key{Fifths: f, Mode: m}
			if step, alter := k.Tonic(); step == want.Step && alter == int(want.Alter) && (mode == "minor") == (m == music.Minor) {
				return k
			}
		}
	}
	require.Fail(t, "no key", text)
	return music.Key{}
}

// annotatedScores reads the scores that experts have marked; two copies of a
// score without its repeat count as one movement.
func annotatedScores(t *testing.T) []*annotated {
	root := filepath.Dir(filepath.Dir(referenceScores(t)[0]))
	f, err := os.Open(filepath.Join(root, "keys", "keys.tsv"))
	if err != nil {
		t.Skipf("no annotated keys: %v", err)
	}
	defer f.Close()
	var all []*annotated
	s := bufio.NewScanner(f)
	for s.Scan() {
		part := strings.Split(s.Text(), "\t")
		if len(all) == 0 || all[len(all)-1].name != part[0] {
			all = append(all, &annotated{name: part[0]})
		}
		measure, _ := leading(part[1])
		onset, err := music.ParseFrac(part[2])
		require.NoError(t, err)
		a := all[len(all)-1]
		a.lines = append(a.lines, marked{measure, onset, parseKey(t, part[3]), part[4]})
	}
	require.NoError(t, s.Err())
	return slices.DeleteFunc(all, func(a *annotated) bool {
		for _, folder := range []string{"scores", "second/scores"} {
			data, err := os.ReadFile(filepath.Join(root, folder, a.name))
			if err != nil {
				continue
			}
			res, err := musicxml.Decode(data, nil)
			if err != nil {
				t.Logf("%s: %v", a.name, err)
				return true
			}
			a.p = res.Passage
			a.reading = realize.Read(a.p, realize.Taste{})
			a.shares = realize.CountKeyShares(a.p, a.keyAt)
			return false
		}
		return true
	})
}

// keyAt is the experts' key at an onset.
func (a *annotated) keyAt(measure int, onset music.Frac) (key music.Key, known bool) {
	m := &a.p.Measures[measure]
	n, numbered := leading(m.Number)
	for _, l := range a.lines {
		if l.measure < n || l.measure == n && l.onset.Cmp(onset.Sub(m.Onset)) <= 0 {
			key, known = l.key, true
		}
	}
	return key, known && numbered
}

// wanted are the experts' keys at a measure: the one it begins in, and those
// it changes to.
func (a *annotated) wanted(measure int) []music.Key {
	n, numbered := leading(a.p.Measures[measure].Number)
	if !numbered {
		return nil
	}
	var want, inside []music.Key
	for _, l := range a.lines {
		switch {
		case l.measure < n || l.measure == n && l.onset.IsZero():
			want = []music.Key{l.key}
		case l.measure == n:
			inside = append(inside, l.key)
		}
	}
	return append(want, inside...)
}

// near reports whether two keys are the same, parallel or relative.
func near(a, b music.Key) bool {
	x, y := tonicClass(a), tonicClass(b)
	return a == b || x == y || a.Mode != b.Mode && (a.Fifths-b.Fifths)%12 == 0
}

func tonicClass(k music.Key) int {
	step, alter := k.Tonic()
	return music.Pitch{Step: step, Alter: int8(alter), Octave: 4}.MIDI() % 12
}

func sameKey(a, b music.Key) bool { return a.Mode == b.Mode && tonicClass(a) == tonicClass(b) }

// TestLocalKeys holds the local key at every ornament against what experts
// have marked in sonatas by Mozart and Beethoven (the DCML corpora): with the
// profiles in use, and with profiles made of the other movements only.
func TestLocalKeys(t *testing.T) {
	if testing.Short() {
		t.Skip("read in full natively")
	}
	all := annotatedScores(t)
	movement := func(a *annotated) string {
		return strings.TrimSuffix(strings.TrimSuffix(a.name, ".musicxml"), "_no_repeat")
	}
	var every []realize.KeyShares
	for _, a := range all {
		every = append(every, a.shares)
	}
	counted := realize.ProfilesOf(every)
	for mode := range counted {
		for d := range counted[mode] {
			assert.InDelta(t, counted[mode][d], realize.KeyProfiles()[mode][d], 4, "mode %d, entry %d: counted again %v", mode, d, counted[mode])
		}
	}
	for _, leftOut := range []bool{false, true} {
		n, exact, close := 0, 0, 0
		byWork, works := 0.0, 0
		for _, a := range all {
			profiles := realize.KeyProfiles()
			if leftOut {
				var others []realize.KeyShares
				for _, b := range all {
					if movement(b) != movement(a) {
						others = append(others, b.shares)
					}
				}
				profiles = realize.ProfilesOf(others)
			}
			key := realize.KeysBy(a.p, profiles)
			here, hit := 0, 0
			for _, o := range a.reading.Ornaments {
				want := a.wanted(o.Measure)
				if len(want) == 0 {
					continue
				}
				got := key(o.Onset)
				here++
				if slices.ContainsFunc(want, func(k music.Key) bool { return sameKey(k, got) }) {
					hit++
				}
				if slices.ContainsFunc(want, func(k music.Key) bool { return sameKey(k, got) || near(k, got) }) {
					close++
				}
			}
			n, exact = n+here, exact+hit
			if here > 0 {
				byWork += float64(hit) / float64(here)
				works++
			}
		}
		t.Logf("left out %v: %d ornaments, %.1f %% exact, %.1f %% near; %.1f %% of a movement", leftOut, n,
			100*float64(exact)/float64(n), 100*float64(close)/float64(n), 100*byWork/float64(works))
		assert.GreaterOrEqual(t, float64(exact)/float64(n), .85)
		assert.GreaterOrEqual(t, float64(close)/float64(n), .93)
	}
}
