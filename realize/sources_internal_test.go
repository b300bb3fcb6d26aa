package realize

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// A source can be found by a reader: who, what, when and, where it was read,
// which part of it.
func TestSourcesCanBeFound(t *testing.T) {
	year := regexp.MustCompile(`\b(1[67]|18|19|20)\d\d\b`)
	part := regexp.MustCompile(`ch\. |§|Explication|chapter|explanation of|lessons`)
	versuch := regexp.MustCompile(`^C\.P\.E\. Bach, Versuch I \(1753\), ch\. 2\.[1-8] §\d`)
	ours := []string{"file", "common", "analogy"}
	for key, s := range sources {
		assert.Contains(t, []Status{StatusRead, StatusReported, CommonPractice, StatusMeasured, StatusMemory}, s.Status, key)
		assert.Equal(t, s.Status == CommonPractice, key == "common" || key == "analogy", key)
		if slices.Contains(ours, key) {
			continue
		}
		if key != "duffin" { // notes to a course, put on the web
			assert.Regexp(t, year, s.Text, key)
		}
		assert.Contains(t, s.Text, ". ", "%s names its author, or its volume", key)
		if s.Status == StatusRead {
			assert.Regexp(t, part, s.Text, key)
		}
		if s.Status == StatusReported && !strings.Contains(s.Text, "extract") {
			assert.Regexp(t, `through|Grove|course notes`, s.Text, "%s names who reports it", key)
		}
		if strings.HasPrefix(key, "cpe-") {
			assert.Regexp(t, versuch, s.Text, key)
		}
		if s.Status == StatusMeasured {
			assert.Contains(t, s.Text, "CC BY-NC-SA 4.0", key)
			assert.Regexp(t, `Peter et al\. 2023`, s.Text, key)
		}
		for _, of := range s.of {
			assert.True(t, slices.ContainsFunc(traditions, func(tr *tradition) bool { return tr.key == of }), "%s speaks for %q", key, of)
		}
	}
}

// A tradition's own rules cite nothing of another country, time or sign.
func TestTraditionsCiteTheirOwn(t *testing.T) {
	for _, tr := range traditions {
		for _, r := range tr.rules {
			for _, key := range r.from {
				assert.True(t, sources[key].speaksFor(tr.key), "%s: %s for %q", tr.key, key, r.why)
			}
		}
	}
}

// A rule that every tradition shares cites for each only what speaks for it.
func TestCited(t *testing.T) {
	for _, c := range []struct {
		name, tradition string
		from, want      []string
	}{
		{"its own", "bach", []string{"bach1720"}, []string{"bach1720"}},
		{"another's", "english", []string{"bach1720"}, []string{"analogy"}},
		{"one of two", "romantic", []string{"cpe-3-13", "common"}, []string{"common"}},
		{"everybody's", "french", []string{"common", "measured"}, []string{"common", "measured"}},
		{"none", "french", nil, nil},
	} {
		t.Run(c.name, func(t *testing.T) { assert.Equal(t, c.want, cited(c.from, c.tradition)) })
	}
}

// The sections of the Versuch are about one kind of ornament each (contents of
// part I, chapter 2), and are cited for that kind alone.
func TestSectionsOfTheVersuch(t *testing.T) {
	trills := append([]figure{trilledTurnFigure}, allTrills...)
	about := map[string][]figure{
		"2.1": {graceFigure, graceGroupFigure},
		"2.2": {graceFigure, graceGroupFigure},
		"2.3": trills,
		"2.4": {turnFigure, lateTurnFigure, haydnFigure, trilledTurnFigure},
		"2.5": mordents,
		"2.6": {graceGroupFigure},
		"2.7": {slideFigure, graceGroupFigure},
		"2.8": {shortTrillFigure},
	}
	section := regexp.MustCompile(`ch\. (2\.\d)`)
	all := slices.Clone(commonRules)
	for _, tr := range traditions {
		all = append(all, tr.rules...)
	}
	seen := 0
	for _, r := range all {
		for _, key := range r.from {
			if found := section.FindStringSubmatch(sources[key].Text); found != nil {
				seen++
				for _, f := range r.figures {
					assert.Contains(t, about[found[1]], f, "%s is cited for %s: %q", key, figureKeys[f], r.why)
				}
			}
		}
	}
	assert.Greater(t, seen, 50)
}

// What only one country has a sign for is no other's (Couperin's aspiration,
// the English beat): its books are cited in that country alone.
func TestNoForeignTables(t *testing.T) {
	for key, only := range map[string]string{
		"purcell": "english", "couperin1713": "french", "couperin1716": "french", "danglebert": "french",
		"newgrove-fr": "french", "bach1720": "bach", "clementi": "london", "hummel": "romantic", "spohr": "romantic", "czerny": "romantic",
	} {
		assert.Equal(t, []string{only}, sources[key].of, key)
	}
}
