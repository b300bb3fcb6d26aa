package program_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"agremens/cmd/agremens/program"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// runtimeFiles returns the folder of what starts Go programs in Node.
func runtimeFiles(t *testing.T) string {
	if _, err := exec.LookPath("node"); err != nil {
		t.Skip("node is not installed")
	}
	goroot, err := exec.Command("go", "env", "GOROOT").Output()
	require.NoError(t, err)
	return filepath.Join(strings.TrimSpace(string(goroot)), "lib", "wasm")
}

// The program without its lines must do what it did, under the runtime that
// it is meant for.
func TestAProgramWithoutLinesRuns(t *testing.T) {
	loader := runtimeFiles(t)
	target := filepath.Join(t.TempDir(), "hello.wasm")
	body, err := program.Build(".", "./testdata/hello", target, os.Stderr)
	require.NoError(t, err)
	whole, err := os.ReadFile(target)
	require.NoError(t, err)
	require.Len(t, body, len(whole))
	assert.NotEqual(t, whole, body)
	assert.Less(t, zeros(whole)+100_000, zeros(body))
	require.NoError(t, os.WriteFile(target, body, 0o644))
	run := exec.Command(filepath.Join(loader, "go_js_wasm_exec"), target)
	out, err := run.CombinedOutput()
	require.NoError(t, err, string(out))
	assert.Equal(t, "goroutines: 2000\ndeep main.main 0 5050\n", string(out))
}

func zeros(b []byte) int { return strings.Count(string(b), "\x00") }

func TestWhatIsNoProgramStaysAsItIs(t *testing.T) {
	for name, body := range map[string]string{
		"nothing":       "",
		"words":         "no program at all",
		"an empty one":  "\x00asm\x01\x00\x00\x00",
		"cut off":       "\x00asm\x01\x00\x00\x00\x0b\xff\xff\x03",
		"cut off later": "\x00asm\x01\x00\x00\x00\x0b\x05\x01\x00\x41\x00\x0b",
	} {
		b := []byte(body)
		assert.False(t, program.DropLines(b), name)
		assert.Equal(t, body, string(b), name)
	}
}
