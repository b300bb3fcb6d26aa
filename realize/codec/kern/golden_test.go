package kern_test

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/tools/txtar"

	"agremens/realize/codec/kern"
)

var update = flag.Bool("update", false, "write the golden file anew")

func basics(t testing.TB) []txtar.File {
	t.Helper()
	data, err := os.ReadFile("testdata/basics.txt")
	require.NoError(t, err)
	return txtar.Parse(data).Files
}

// The golden file is to be read: every line of it is what a musician finds in
// the text of that name.
func TestGolden(t *testing.T) {
	var b strings.Builder
	for _, f := range basics(t) {
		fmt.Fprintf(&b, "-- %s --\n", f.Name)
		r, err := kern.Decode(f.Data, kern.Options{})
		if !assert.NoError(t, err, f.Name) {
			continue
		}
		b.WriteString(r.Passage.Format())
		if len(r.Parts) > 1 {
			for _, p := range r.Parts {
				fmt.Fprintf(&b, "part %s %q, %d notes, chosen %t\n", p.ID, p.Name, p.Notes, p.Chosen)
			}
		}
		for _, w := range r.Warnings {
			fmt.Fprintf(&b, "warning: %s\n", w)
		}
	}
	if *update {
		require.NoError(t, os.WriteFile("testdata/golden.txt", []byte(b.String()), 0o644))
	}
	golden, err := os.ReadFile("testdata/golden.txt")
	require.NoError(t, err)
	assert.Equal(t, string(golden), b.String())
}
