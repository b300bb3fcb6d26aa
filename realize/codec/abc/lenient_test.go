package abc_test

import (
	"fmt"
	"strings"
	"testing"

	"agremens/realize/codec/abc"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestFilesWithFaultsOpen: a fault costs its field or the rest of its bar,
// and is named with its place; the bars after it are read.
func TestFilesWithFaultsOpen(t *testing.T) {
	const head = "X:1\nM:2/4\nL:1/4\nK:C\n"
	for _, tc := range []struct {
		name, text string
		notes      int
		warning    string
	}{
		{"no key", "X:1\nM:2/4\nL:1/4\nC D | E F |]\n", 4, "gives no key"},
		{"a key nobody knows", "X:1\nM:2/4\nL:1/4\nK:Hx\nC D | E F |]\n", 4, "line 4"},
		{"a metre nobody knows", "X:1\nM:two\nL:1/4\nK:C\nC D | E F |]\n", 4, "line 2"},
		{"a unit nobody knows", "X:1\nM:2/4\nL:x\nK:C\nC D | E F |]\n", 4, "line 3"},
		{"an annotation without end", head + "C D | \"dolce E F | G A |]\n", 4, "line 5, column 7"},
		{"a chord without end", head + "C D | [EG F | G A |]\n", 4, "rest of this bar"},
		{"a note outside every keyboard", head + "C D | E,,,,,,,,, F | G A |]\n", 4, "outside the range of every keyboard"},
		{"cut off inside a chord", head + "C D | E F | [CE", 4, "rest of this bar"},
		{"cut off inside small notes", head + "C D | E F | {ga", 4, "rest of this bar"},
		{"old Macintosh line ends", strings.ReplaceAll(head+"C D | E F |]\n", "\n", "\r"), 4, ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p, warnings, err := abc.DecodeFile(tc.text)
			require.NoError(t, err)
			require.NoError(t, p.Check())
			notes := 0
			for _, c := range p.Chords {
				notes += len(c.Notes)
			}
			assert.Equal(t, tc.notes, notes)
			if tc.warning == "" {
				assert.Empty(t, warnings)
			} else {
				assert.Contains(t, fmt.Sprint(warnings), tc.warning)
			}
		})
	}
}

// FuzzDecodeFile: a file gives a passage that keeps its promises, or an error
// that says where; never a panic, and never an error of the model's laws.
func FuzzDecodeFile(f *testing.F) {
	f.Add("X:1\nM:2/4\nL:1/4\nK:C\nC D | \"dolce E F | [CE")
	f.Add("X:1\nV:1\nV:2\n[V:1] {ga C & [E | (3EFG \"x\n[V:2] Z2 |")
	f.Fuzz(func(t *testing.T, text string) {
		p, _, err := abc.DecodeFile(text)
		if err != nil {
			if strings.Contains(err.Error(), "please report") {
				t.Error(err)
			}
			return
		}
		if err := p.Check(); err != nil {
			t.Error(err)
		}
	})
}
