package po_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// aNumberOf is a number before a noun in the plural: it reads "1 notes" where
// the number is one, unless Catalogue.Count has a sentence for that.
var aNumberOf = regexp.MustCompile(`\{[a-z]+\} ([a-z]+ )?(notes|taps|places|bars|measures|rounds|days|times|seconds|minutes|signs|ornaments|columns|students|works|pieces|shares|fingers|names|choices|players|beats|staves|parts|passages|tasks|reports|voices|weeks|months|marks|repeats|steps|megabytes|bytes|files|cents|players|quarters?( notes)?|people|letters|pages|lines|systems|links|codes|habits|sources|trills|turns|mordents|strikes|keys|hands|clefs|slurs|accidentals)\b`)

// notOne are texts whose number is never one, each with the reason; a part of
// the text is enough.
var notOne = []struct{ part, why string }{
	{" per second", "a rate, with decimals or two notes and more"},
	{" per minute", "a tempo"},
	{" of {", "the noun belongs to the whole: 1 of 8 notes"},
	{"more than {n} ", "a limit in the dozens or more"},
	{"larger than {n} ", "a limit"},
	{"longer than {n} ", "a limit"},
	{"up to {n} bars", "a limit"},
	{"the class has {n} students", "a limit"},
	{"room for {n} names", "a limit"},
	{"the part has {n} staves; the two upper", "three or more"},
	{"Of {n} parts", "said of two parts and more"},
	{"this archive contains {n} files", "said beyond a limit"},
	{"Making the sound: {n} seconds", "said every five seconds"},
	{"written out for {s} seconds", "a constant"},
	{"You played {tapped} notes; {wanted} were planned", "said of two notes and more"},
	{"{each} has {tapped} notes instead of {wanted}", "said of two notes and more"},
	{"{tapped} notes, {wanted} were planned: in a free trill", "said of two notes and more"},
	{"{tapped} notes were tapped by the other hand", "tap.Words.Single has the sentence for one"},
	{"{tapped} notes differ from those planned", "tap.Words.Single has the sentence for one"},
	{"You tapped {tapped} times too often", "tap.Words.Single has the sentence for one"},
	{"{tapped} extra taps", "tap.Words.Single has the sentence for one"},
	{"is tuned about {n} cents", "eight or more"},
	{"{name} taps", "a verb"},
}

// A number before a plural is counted by Catalogue.Count, or stands where it
// cannot be one.
func TestOneIsNoPlural(t *testing.T) {
	used := make([]bool, len(notOne))
	all := programTexts(t, translated...)
	all.page(t)
	for key := range all {
		if !aNumberOf.MatchString(key[1]) {
			continue
		}
		excused := false
		for i, n := range notOne {
			if strings.Contains(key[1], n.part) {
				excused, used[i] = true, true
			}
		}
		assert.True(t, excused, "%q says a plural after 1: use Catalogue.Count", key[1])
	}
	for i, n := range notOne {
		assert.True(t, used[i], "no text has %q any more", n.part)
	}
	assert.False(t, aNumberOf.MatchString("{n} clean round"), "the singular of a counted text is none")
	assert.True(t, aNumberOf.MatchString("{n} extra taps") && aNumberOf.MatchString("in {n} pieces"))
}
