package po_test

import (
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/cmd/agremens/po"
	"agremens/web"

	"github.com/stretchr/testify/require"
)

// banned are words and patterns that no text of the program has, each with
// the reason. They were all said once.
var banned = []struct{ pattern, why string }{
	// Not true.
	{`\d performances\b`, "played ornaments were counted; the recordings hold some eleven hundred performances"},
	{`\bcircle\b`, "Handel and Scarlatti do not belong to Bach's"},
	{`tempo .*\{early\}`, "a tempo is fast or slow, not early"},
	{`last one on the beat`, "the note after the ornament is on the beat, not always its last one"},
	{`\bnobody (hears|says)\b`, "trained ears hear 20 ms"},
	{`\bof \{s\} s\b`, "a half of 1.7 s is half of 1.7 seconds"},
	{`appoggiatura of (a|two|three)\b`, "a third is an interval, a quarter a note"},
	{`\b(As|as) set below\b`, "on paper and in a task nothing stands below"},
	// Words of our own where the trade has one.
	{`(?i)\bleaning note|\bleaned\b`, "appoggiatura"},
	{`(?i)\b(un)?stroked\b|\bcrossed small`, "slashed"},
	{`(?i)\bsquare code\b`, "QR code"},
	{`(?i)\bthe desk\b|\bwhole desk\b`, "no control is called desk"},
	{`(?i)\bglass\b`, "touchscreen"},
	{`(?i)\bupside down\b`, "inverted"},
	{`(?i)\bprinted before its beat\b`, "anticipates"},
}

func TestNoPrivateVocabulary(t *testing.T) {
	all := programTexts(t, translated...)
	all.page(t)
	for key := range all {
		for _, b := range banned {
			assert.NotRegexp(t, b.pattern, key[1], b.why)
			assert.NotRegexp(t, b.pattern, all[key].Many, b.why)
		}
	}
}

// bannedGerman are those of the German texts.
var bannedGerman = []struct{ pattern, why string }{
	{`\d Aufnahmen an \d`, "gezählt sind gespielte Verzierungen"},
	{`Kreis um`, "Händel und Scarlatti gehören nicht zu Bachs Kreis"},
	{`\} von \{s\} s`, "eine Halbe von 1,7 s"},
	{`\bIhre Verzierungen\b`, "liest sich wie die höfliche Anrede"},
	{`Pult`, "so heißt keine Schaltfläche"},
	{`Glas\b`, "Bildschirm"},
	{`auf dem Kopf`, "umgekehrt"},
	{`Code .* zum Abfotografieren`, "QR-Code"},
	{`Clavecin\b.*Französisch|Französisches Clavecin`, "französische Clavecinisten"},
}

func TestNoPrivateVocabularyInGerman(t *testing.T) {
	files, err := web.Words()
	require.NoError(t, err)
	f, err := po.Read(files["de"])
	require.NoError(t, err)
	for _, text := range f.Texts {
		for _, b := range bannedGerman {
			for _, said := range []string{text.Said, text.Many} {
				assert.False(t, regexp.MustCompile(b.pattern).MatchString(said), "%s (%s)", said, b.why)
			}
		}
	}
}
