package realize

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/realize/codec/abc"
	"agremens/realize/perf"
)

// looked reads the place of the first ornament of a tune at a tempo in
// quarters a minute.
func looked(t require.TestingT, tune string, qpm float64) *place {
	p, _, err := abc.Decode(tune)
	require.NoError(t, err)
	r := &reader{p: p, l: link(p), keys: signatures(p), rate: StudentRate, tempo: perf.Steady(qpm)}
	r.trad = chooseTradition(p, &r.taste, &Reading{})
	r.indexSlurs()
	sites := gather(p, r.l)
	require.NotEmpty(t, sites)
	return r.look(&sites[0])
}

const inC = "M:4/4\nL:1/4\nK:C\n"

// is names the facts that hold among some.
func is(pl *place, names map[string]fact) []string {
	var out []string
	for name, f := range names {
		if pl.has(f) {
			out = append(out, name)
		}
	}
	return out
}

var lengths = map[string]fact{
	"tiny": tiny, "short": short, "tight": tight, "brief": brief, "long": long, "aSecond": aSecond, "veryLong": veryLong,
}

// What fits into a note is a matter of seconds, not of its printed value. An
// advanced player alternates about eight notes a second, a concert player
// twelve (see StudentRate), and the steps follow from that: below 180 ms there
// is no room for three notes even at speed; a quarter of a second takes three
// at twelve a second; below 450 ms there is no room for six at speed; 700 ms
// hold six at eight a second; from 900 ms on a note is heard as held, and
// 1.5 s leave room for a trill with a beginning, a middle and an end. The
// longer a note is, the more of these it has passed.
func TestHowLongANoteIs(t *testing.T) {
	for _, tt := range []struct {
		seconds float64
		is      string
	}{
		{.05, "tiny short tight brief"},
		{.179, "tiny short tight brief"}, {.181, "short tight brief"},
		{.249, "short tight brief"}, {.251, "tight brief"},
		{.449, "tight brief"}, {.451, "brief"},
		{.699, "brief"}, {.701, "long"},
		{.899, "long"}, {.901, "long aSecond"},
		{1.499, "long aSecond"}, {1.501, "long aSecond veryLong"},
		{6, "long aSecond veryLong"},
	} {
		pl := looked(t, inC+"!trill!c d e f |]\n", 60/tt.seconds)
		assert.ElementsMatch(t, strings.Fields(tt.is), is(pl, lengths), "%v s", tt.seconds)
	}
}

// A half note at twice the tempo is as long as a quarter; a tie adds what it
// ties on.
func TestLengthIsInSeconds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seconds := rapid.Float64Range(.05, 3).Draw(t, "seconds")
		quarter := is(looked(t, inC+"!trill!c d e f |]\n", 60/seconds), lengths)
		for _, other := range []struct {
			tune     string
			quarters float64
		}{{"!trill!c/ d/ d e f", .5}, {"!trill!c2 d e", 2}, {"!trill!c3 d", 3}, {"!trill!c- c d e", 2}} {
			assert.ElementsMatch(t, quarter, is(looked(t, inC+other.tune+" |]\n", other.quarters*60/seconds), lengths), other.tune)
		}
	})
}

// Slow and quick are what the felt beat does: below 70 a minute there is time
// within a beat, above 110 there is hardly any. A dotted beat is three
// eighths, the beat of alla breve a half.
func TestHowFastTheBeatIs(t *testing.T) {
	pace := map[string]fact{"slow": slow, "quick": quick}
	for _, metre := range []struct {
		metre    string
		quarters float64 // of a beat
	}{{"4/4", 1}, {"3/4", 1}, {"6/8", 1.5}, {"2/2", 2}} {
		for _, tt := range []struct {
			beats float64
			is    string
		}{{40, "slow"}, {69.9, "slow"}, {70.1, ""}, {90, ""}, {109.9, ""}, {110.1, "quick"}, {200, "quick"}} {
			pl := looked(t, "M:"+metre.metre+"\nL:1/8\nK:C\n!trill!c d e |]\n", tt.beats*metre.quarters)
			assert.ElementsMatch(t, strings.Fields(tt.is), is(pl, pace), "%s, %v beats a minute", metre.metre, tt.beats)
		}
	}
}

// The printed value: below, at and above a quarter, dotted or of three parts,
// filling its bar.
func TestWhatValueANoteHas(t *testing.T) {
	values := map[string]fact{
		"dotted": dotted, "plain": plainValue, "fills": fillsBar, "triplet": triplets,
		"below": underQuarter, "quarter": fullQuarter, "above": moreThanQuarter,
	}
	for _, tt := range []struct{ metre, tune, is string }{
		{"4/4", "!trill!c d e f", "plain quarter"},
		{"4/4", "!trill!c/ d/ d e f", "plain below"},
		{"4/4", "!trill!c2 d e", "plain above"},
		{"4/4", "!trill!c3/2 d/ e f", "dotted above"},
		{"4/4", "!trill!c3/4 d/4 e f g", "dotted below"},
		{"4/4", "!trill!c4", "plain above"},
		{"3/4", "!trill!c3", "dotted above fills"},
		{"6/8", "!trill!c3/2 d3/2", "dotted above fills"},
		{"6/8", "!trill!c3", "dotted above fills"},
		{"6/8", "!trill!c/ d/ e/ f3/2", "plain below triplet"},
		{"6/8", "!trill!c d/ f3/2", "plain quarter"},
		{"4/4", "(3!trill!cde f2", "plain below triplet"},
	} {
		pl := looked(t, "M:"+tt.metre+"\nL:1/4\nK:C\n"+tt.tune+" |]\n", 60)
		assert.ElementsMatch(t, strings.Fields(tt.is), is(pl, values), "%s: %s", tt.metre, tt.tune)
	}
}

// Where in the bar: the notes of an upbeat count from the end of its bar.
func TestWhereInTheBar(t *testing.T) {
	where := map[string]fact{"strong": strong, "beat": onBeat}
	for _, tt := range []struct{ tune, is string }{
		{"!trill!c d e f", "strong beat"},
		{"c !trill!d e f", "beat"},
		{"c/ !trill!d/ e f g", ""},
		{"!trill!c | d e f g", "beat"},
		{"!trill!c/ | d e f g", ""},
		{"c d e f | !trill!g f e d", "strong beat"},
	} {
		pl := looked(t, inC+tt.tune+" |]\n", 60)
		assert.ElementsMatch(t, strings.Fields(tt.is), is(pl, where), tt.tune)
	}
}

// What the melody does before and after.
func TestWhatTheMelodyDoes(t *testing.T) {
	line := map[string]fact{
		"from same": prevSame, "from above": prevUpper, "from below": prevLower, "from a leap": prevLeap, "from rest": prevRest, "slurred in": prevSlurred,
		"cut before": prevDetached, "rising": prevRising, "trill before": prevTrilled,
		"to same": nextSame, "up": nextUp, "down": nextDown, "to a leap": nextLeap, "to rest": nextRest, "slurred on": nextSlurred, "trill after": nextTrilled,
		"a third down": nextFalls3, "anticipated": anticipated, "turned round": suffixNear, "quick after": nextQuick, "half after": nextHalf,
		"returns": risesReturns, "repeated": repeatsMany, "halves": pairOfHalves, "cut": detached, "tied": tied,
	}
	for _, tt := range []struct{ tune, is string }{
		{"z !trill!c z2", "from rest, to rest"},
		{"!trill!c d z2", "from rest, up"},
		{"c !trill!c c c", "from same, to same, repeated"},
		{"d !trill!c d2", "from above, up"},
		{"B !trill!c B2", "from below, down, returns"},
		{"A B !trill!c d", "from below, rising, up"},
		{"G B !trill!c d", "from below, up"},
		{"e !trill!c A2", "from a leap, to a leap, a third down"},
		{"G !trill!c g2", "from a leap, to a leap"},
		{"(d !trill!c) d2", "from above, slurred in, up"},
		{"d (!trill!c B2)", "from above, slurred on, down"},
		{"(d !trill!c B2)", "from above, slurred in, slurred on, down"},
		{".d !trill!c d2", "from above, cut before, up"},
		{"d .!trill!c d2", "from above, cut, up"},
		{"d !trill!c !trill!d2", "from above, up, trill after"},
		{"d !trill!c2 B", "from above, down"},
		{"d !trill!c3/2 B/ B", "from above, down, quick after, anticipated, half after"},
		{"d !trill!c B/c/ d", "from above, down, halves"},
		{"d !trill!c3/2 B/4c/4 d", "from above, down, quick after, turned round"},
		{"d !trill!c B/A/ G", "from above, down, halves"},
		{"d !trill!c- c d", "from above, up, tied"},
	} {
		pl := looked(t, inC+tt.tune+" |]\n", 60)
		assert.ElementsMatch(t, strings.Split(tt.is, ", "), is(pl, line), tt.tune)
	}
}

// Facts are kept one by one, past the sixty-fourth too.
func TestFactsAreKeptApart(t *testing.T) {
	for x := range factCount {
		var f facts
		f.set(x, true)
		for y := range factCount {
			assert.Equal(t, x == y, f.has(y), fmt.Sprintf("%d, %d", x, y))
		}
		assert.True(t, f.all([]fact{x}) && f.any([]fact{x}) && f.all(nil))
		other := (x + 1) % factCount
		assert.False(t, f.all([]fact{x, other}) || f.any([]fact{other}) || f.any(nil))
		assert.True(t, f.any([]fact{other, x}))
		f.set(x, false)
		assert.True(t, f.has(x), "what is true stays so")
	}
}
