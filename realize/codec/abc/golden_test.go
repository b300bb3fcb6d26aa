package abc_test

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/tools/txtar"

	"agremens/realize/codec/abc"
)

var update = flag.Bool("update", false, "rewrite the expected output in testdata")

// Each case in testdata is an .abc file followed by what it becomes.
func TestGolden(t *testing.T) {
	files, err := filepath.Glob("testdata/*.txt")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		archive := txtar.Parse(data)
		want := map[string]string{}
		for _, f := range archive.Files {
			want[f.Name] = string(f.Data)
		}
		fresh := &txtar.Archive{Comment: archive.Comment}
		cases := 0
		for _, f := range archive.Files {
			name, ok := strings.CutSuffix(f.Name, ".abc")
			if !ok {
				continue
			}
			cases++
			got := shown(string(f.Data))
			fresh.Files = append(fresh.Files, f, txtar.File{Name: name + ".want", Data: []byte(got)})
			if !*update {
				t.Run(name, func(t *testing.T) { assert.Equal(t, want[name+".want"], got) })
			}
		}
		require.NotZero(t, cases)
		if *update {
			require.NoError(t, os.WriteFile(file, txtar.Format(fresh), 0o644))
		}
	}
}

// shown is a text decoded and printed, with its warnings or its error.
func shown(text string) string {
	var b strings.Builder
	p, warnings, err := abc.Decode(text)
	for _, w := range warnings {
		b.WriteString("warning: " + w.String() + "\n")
	}
	if err != nil {
		return b.String() + "error: " + err.Error() + "\n"
	}
	return b.String() + p.Format()
}
