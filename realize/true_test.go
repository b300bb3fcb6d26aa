package realize_test

import (
	"regexp"
	"strings"
	"testing"

	"agremens/assets"
	"agremens/realize"

	"github.com/stretchr/testify/assert"
)

// readings are the built-in passages as every tradition reads them, with
// everything that they say.
func readings(t *testing.T) map[string]string {
	t.Helper()
	said := map[string]string{}
	for _, a := range assets.Passages() {
		p := passage(t, a.ABC)
		for _, tr := range realize.Traditions() {
			var text strings.Builder
			for _, prefer := range []realize.Preference{realize.Sources, realize.Performers} {
				for _, o := range realize.Read(p, realize.Taste{Tradition: tr.Key, Prefer: prefer}).Ornaments {
					for _, c := range o.Choices {
						text.WriteString(c.Name + "\n" + c.Reason + "\n")
					}
				}
			}
			said[a.ID+" "+tr.Key] = text.String()
		}
	}
	return said
}

// "A half of 1.7 s" is half of 1.7 seconds: a note value says that it is one,
// and a share of a note says of what.
func TestValuesAndSharesAreSaidAsSuch(t *testing.T) {
	valueOfSeconds := regexp.MustCompile(`(whole|half|quarter|eighth|sixteenth|second) of \d`)
	interval := regexp.MustCompile(`appoggiatura of (a third|two thirds|a quarter|three quarters)`)
	values := 0
	for name, text := range readings(t) {
		assert.NotRegexp(t, valueOfSeconds, text, name)
		assert.NotRegexp(t, interval, text, name)
		values += len(regexp.MustCompile(`(whole|half|quarter|eighth|sixteenth|second) note \(\d+\.\d s\)`).FindAllString(text, -1))
	}
	assert.Greater(t, values, 20)
}

// The tradition of Handel, Telemann and Scarlatti, whom its list names, is not
// the circle of one man.
func TestNoTraditionIsOneMansCircle(t *testing.T) {
	for _, tr := range realize.Traditions() {
		assert.NotContains(t, tr.Name, "circle")
	}
	p := passage(t, "X:1\nC:Domenico Scarlatti\nM:4/4\nL:1/4\n%%score {R L}\nV:R clef=treble\nV:L clef=bass\nK:C\n[V:R] Td2 c2 |]\n[V:L] C4 |]\n")
	key := realize.Read(p, realize.Taste{}).Tradition
	for _, tr := range realize.Traditions() {
		if tr.Key == key {
			assert.Equal(t, "Late Baroque (Bach's table)", tr.Name)
		}
	}
}

// What was counted in recordings is played ornaments: the two sets hold some
// eleven hundred performances, and 13,987 ornaments in them.
func TestCountsAreOfOrnaments(t *testing.T) {
	counted := 0
	for name, text := range readings(t) {
		assert.NotRegexp(t, `\d performances`, text, name)
		counted += strings.Count(text, "of 100 ")
	}
	assert.Positive(t, counted)
}
