package program_test

import (
	"encoding/binary"
	"os"
	"path/filepath"
	"testing"

	"agremens/cmd/agremens/program"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is sent first holds its memory in a few pieces, and no more of the
// names of functions than a trace shows. That it runs is shown above.
func TestTheFirstPartIsWrittenShort(t *testing.T) {
	whole, err := program.BuildNamed(".", "./testdata/hello", filepath.Join(t.TempDir(), "hello.wasm"), os.Stderr)
	require.NoError(t, err)
	begin, _ := parts(t, func(string) bool { return true })
	assert.Greater(t, pieces(t, whole), uint64(10_000))
	assert.Less(t, pieces(t, begin), uint64(2_000))
	assert.Contains(t, string(whole), "slices.SortStableFunc[go.shape.")
	assert.NotContains(t, string(begin), "slices.SortStableFunc[go.shape.")
	assert.Contains(t, string(begin), "slices.SortStableFunc[...]\x00")
}

// pieces is the number of data segments.
func pieces(t *testing.T, module []byte) uint64 {
	sections, err := program.Sections(module)
	require.NoError(t, err)
	for _, s := range sections {
		if s.ID == program.Data {
			n, _ := binary.Uvarint(module[s.From:])
			return n
		}
	}
	t.Fatal("no data")
	return 0
}
