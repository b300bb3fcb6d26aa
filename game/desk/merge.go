package desk

import (
	"fmt"
	"net/url"
	"strings"

	"agremens/realize"
)

// Merge returns what to keep of a desk ([Desk.Save]) where another window has
// kept its own since: the settings as mine, and the decisions of both. before
// is what this window kept last, or read; stored is what is kept now.
func Merge(before, mine, stored string) string {
	if stored == "" || stored == before || stored == mine {
		return mine
	}
	old, ok1 := savedTaste(before)
	now, ok2 := savedTaste(mine)
	other, ok3 := savedTaste(stored)
	if !ok1 || !ok2 || !ok3 || SavedPassage(stored) != SavedPassage(mine) {
		return mine
	}
	return decided(mine, now.Onto(old, other))
}

// WithDecisions returns a saved desk with the decisions of another one of the
// same passage.
func WithDecisions(saved, from string) string {
	t, ok := savedTaste(from)
	if from == "" || !ok || SavedPassage(from) != SavedPassage(saved) {
		return saved
	}
	return decided(saved, t)
}

func decided(saved string, t realize.Taste) string {
	var b strings.Builder
	for line := range strings.Lines(saved) {
		if strings.HasPrefix(line, "decisions ") {
			line = fmt.Sprintf("decisions %s\n", url.QueryEscape(t.Text()))
		}
		b.WriteString(line)
	}
	return b.String()
}

// savedTaste reads the decisions of a saved desk; nothing saved is none.
func savedTaste(saved string) (t realize.Taste, ok bool) {
	ok = true
	eachLine(saved, func(name, value string) {
		if name == "decisions" {
			var err error
			t, err = realize.ParseTaste(value)
			ok = err == nil
		}
	})
	return t, ok
}
