package program_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"agremens/cmd/agremens/program"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// joined runs a program in two parts in Node, as web/rest.js does in a page:
// the rest comes when something of it is called. It says so.
const joined = `
'use strict';
const fs = require('fs'), [exec, begin, rest] = process.argv.slice(2);
globalThis.require = require; globalThis.fs = fs; globalThis.path = require('path');
require(exec);
const gate = Uint8Array.of(0, 97, 115, 109, 1, 0, 0, 0, 1, 4, 1, 96, 0, 0, 2, 5, 1, 0, 0, 0, 0, 7, 4, 1, 0, 0, 0);
const go = new Go();
go.exit = process.exit;
const instance = new WebAssembly.Instance(new WebAssembly.Module(fs.readFileSync(begin)), go.importObject), first = instance.exports;
const bring = () => {
  console.log('asked for');
  new WebAssembly.Instance(new WebAssembly.Module(fs.readFileSync(rest)), { first });
};
first.table.set(0, new WebAssembly.Instance(new WebAssembly.Module(gate), { '': { '': bring } }).exports['']);
go.run(instance);
`

// A program in two parts does what it did in one, wherever it is cut.
func TestAProgramInTwoPartsRuns(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	loader := runtimeFiles(t)
	begun := []string{"main.walk", "main.stand", "main.begin.func1", "main.begin.gowrap1"}
	const output = "goroutines: 2000\ndeep main.main 0 5050\n"
	for name, c := range map[string]struct {
		first func(string) bool
		asked string
	}{
		"nothing is left for later":          {func(string) bool { return true }, ""},
		"everything is left for later":       {func(string) bool { return false }, "asked for\n"},
		"the runtime comes first":            {func(f string) bool { return strings.HasPrefix(f, "runtime.") }, "asked for\n"},
		"the runtime comes later":            {func(f string) bool { return !strings.HasPrefix(f, "runtime.") }, "asked for\n"},
		"every other name's length":          {func(f string) bool { return len(f)%2 == 0 }, "asked for\n"},
		"what is never called is left":       {func(f string) bool { return !strings.HasPrefix(f, "runtime.fatal") }, ""},
		"goroutines begin with what is left": {func(f string) bool { return !slices.Contains(begun, f) }, "asked for\n"},
		"by the list of what was called":     {program.FirstVisit("main.main\nfmt.Println\n"), "asked for\n"},
	} {
		t.Run(name, func(t *testing.T) {
			begin, rest := parts(t, c.first)
			out, err := join(t, loader, begin, rest)
			require.NoError(t, err, out)
			assert.Equal(t, c.asked+output, out)
		})
	}
}

// The rest of another build would call what is not there; a cache may hold it.
func TestTheRestOfAnotherBuildIsRefused(t *testing.T) {
	loader := runtimeFiles(t)
	begin, _ := parts(t, func(string) bool { return false })
	_, rest := parts(t, func(f string) bool { return strings.HasPrefix(f, "runtime.") })
	out, err := join(t, loader, begin, rest)
	require.Error(t, err)
	assert.Contains(t, out, "LinkError")
}

func parts(t *testing.T, first func(string) bool) (begin, rest []byte) {
	p, err := program.BuildParts(".", "./testdata/hello", filepath.Join(t.TempDir(), "hello.wasm"), first, os.Stderr)
	require.NoError(t, err)
	require.NoError(t, p.Uncut, "see “The next release of Go” in DEVELOPERS.md")
	require.False(t, p.Lines, "the line tables were not found: see “The next release of Go” in DEVELOPERS.md")
	require.NotEmpty(t, p.Rest)
	return p.Begin, p.Rest
}

// Where the cut fails, for whatever reason, the program stays whole and runs.
func TestAProgramThatCannotBeCutStaysWhole(t *testing.T) {
	loader, dir := runtimeFiles(t), t.TempDir()
	target := filepath.Join(dir, "hello.wasm")
	module, err := program.BuildNamed(".", "./testdata/hello", target, os.Stderr)
	require.NoError(t, err)
	head := []byte{0xf1, 0xff, 0xff, 0xff, 0, 0, 1, 8} // of the runtime's tables
	at := bytes.Index(module, head)
	require.Positive(t, at)
	strange := bytes.Clone(module)
	strange[at+8+7]++ // as if its header had changed: the number of functions is another
	for name, p := range map[string]program.Parts{
		"other tables":  program.Cut(strange, func(string) bool { return true }),
		"a fault":       program.Cut(module, func(string) bool { panic("unforeseen") }),
		"not a program": program.Cut([]byte("nothing at all"), func(string) bool { return true }),
	} {
		assert.Error(t, p.Uncut, name)
		assert.NotEmpty(t, p.Begin, name)
		assert.Nil(t, p.Rest, name)
	}
	p := program.Cut(module, func(string) bool { panic("unforeseen") })
	require.NoError(t, os.WriteFile(target, p.Begin, 0o644))
	out, err := exec.Command(filepath.Join(loader, "go_js_wasm_exec"), target).CombinedOutput()
	require.NoError(t, err, string(out))
	assert.Equal(t, "goroutines: 2000\ndeep main.main 0 5050\n", string(out))
}

// join runs both parts and returns what they print.
func join(t *testing.T, loader string, begin, rest []byte) (string, error) {
	dir := t.TempDir()
	for file, content := range map[string][]byte{"run.js": []byte(joined), "begin.wasm": begin, "rest.wasm": rest} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, file), content, 0o644))
	}
	out, err := exec.Command("node", filepath.Join(dir, "run.js"), filepath.Join(loader, "wasm_exec.js"), filepath.Join(dir, "begin.wasm"), filepath.Join(dir, "rest.wasm")).CombinedOutput()
	return string(out), err
}

// A marked program tells what it called, and does what it did.
func TestAMarkedProgramTellsWhatItCalled(t *testing.T) {
	loader, dir := runtimeFiles(t), t.TempDir()
	module, err := program.BuildNamed(".", "./testdata/hello", filepath.Join(dir, "hello.wasm"), os.Stderr)
	require.NoError(t, err)
	functions, err := program.Functions(module)
	require.NoError(t, err)
	marked, err := program.Marked(module)
	require.NoError(t, err)
	target := filepath.Join(dir, "marked.wasm")
	require.NoError(t, os.WriteFile(target, marked, 0o644))
	out, err := exec.Command(filepath.Join(loader, "go_js_wasm_exec"), target).CombinedOutput()
	require.NoError(t, err, string(out))
	assert.Equal(t, "goroutines: 2000\ndeep main.main 0 5050\n", string(out))

	called := make([]uint32, (len(functions)+31)/32)
	called[0], called[1] = 1|1<<31, 1
	names, err := program.Calls(module, called)
	require.NoError(t, err)
	assert.Equal(t, []string{functions[0].Name, functions[31].Name, functions[32].Name}, names)
	_, err = program.Calls(module, called[1:])
	assert.Error(t, err)
}

func TestWhatIsNoProgramIsNotSplit(t *testing.T) {
	for _, body := range []string{"", "no program at all", "\x00asm\x01\x00\x00\x00", "\x00asm\x01\x00\x00\x00\x0b\xff\xff\x03"} {
		_, _, err := program.Split([]byte(body), func(int) bool { return true })
		assert.Error(t, err)
		_, err = program.Marked([]byte(body))
		assert.Error(t, err)
	}
}

// FuzzSplit: whatever bytes come, there is an answer or an error.
func FuzzSplit(f *testing.F) {
	f.Add([]byte("\x00asm\x01\x00\x00\x00\x0b\x05\x01\x00\x41\x00\x0b"))
	f.Fuzz(func(t *testing.T, module []byte) {
		if _, _, err := program.Split(module, func(i int) bool { return i%2 == 0 }); err == nil {
			_, err = program.Marked(module)
			require.NoError(t, err)
		}
	})
}
