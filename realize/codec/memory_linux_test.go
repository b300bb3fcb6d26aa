package codec_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize/codec"
)

// mostMemory is what a process that opens one score may take at its peak, in
// MB, beside what the same process takes that opens none.
const mostMemory = 300

// opensThis names the file that a process of its own opens.
const opensThis = "AGREMENS_OPENS"

// TestOpensOne is what that process does; it is none of the tests.
func TestOpensOne(t *testing.T) {
	path := os.Getenv(opensThis)
	if path == "" {
		t.Skip("for a process of its own")
	}
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	_, _ = codec.Open(data, "", nil) // what becomes of it is told elsewhere
	// Not what the parent is told of a child that is gone: that counts the
	// parent's own memory, which the child had until it began.
	status, err := os.ReadFile("/proc/self/status")
	require.NoError(t, err)
	fmt.Println(peakLine.FindString(string(status)))
}

// peakLine says the most memory a process ever had, in kB.
var peakLine = regexp.MustCompile(`VmHWM:\s+(\d+) kB`)

// TestMemoryOfDamagedScores opens every damaged score in a process of its own
// and holds the most memory it ever had (the system's count of resident pages)
// against the limit. It is asked for with AGREMENS_MEMORY=1: a process takes a
// tenth of a second.
func TestMemoryOfDamagedScores(t *testing.T) {
	if os.Getenv("AGREMENS_MEMORY") == "" {
		t.Skip("asked for with AGREMENS_MEMORY=1")
	}
	path := filepath.Join(t.TempDir(), "score.musicxml")
	peak := func(data []byte) int {
		require.NoError(t, os.WriteFile(path, data, 0o644))
		cmd := exec.Command(os.Args[0], "-test.run=^TestOpensOne$")
		cmd.Env = append(os.Environ(), opensThis+"="+path)
		out, err := cmd.CombinedOutput()
		require.NoError(t, err, string(out))
		m := peakLine.FindSubmatch(out)
		require.NotNil(t, m, string(out))
		kB, err := strconv.Atoi(string(m[1]))
		require.NoError(t, err)
		return kB >> 10
	}
	none := peak([]byte("X:1\nK:C\nc|]\n"))
	count, most, which := 0, 0, ""
	for m := range damage(t) {
		took := peak(m.damaged) - none
		assert.LessOrEqual(t, took, mostMemory, m.name)
		if count++; took > most {
			most, which = took, m.name
		}
	}
	t.Logf("%d scores: at most %d MB beside the %d MB of a process that opens a note (%s)", count, most, none, which)
}
