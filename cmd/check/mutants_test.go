package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestReportOfMutants(t *testing.T) {
	r, err := readReport([]byte(`{"files":[
		{"file_name":"b.go","mutations":[
			{"type":"ARITHMETIC_BASE","status":"LIVED","line":9,"column":3},
			{"type":"INVERT_NEGATIVES","status":"LIVED","line":9,"column":3},
			{"type":"ARITHMETIC_BASE","status":"KILLED","line":2,"column":3},
			{"type":"ARITHMETIC_BASE","status":"NOT VIABLE","line":2,"column":8}]},
		{"file_name":"a.go","mutations":[
			{"type":"CONDITIONALS_NEGATION","status":"TIMED OUT","line":1,"column":1},
			{"type":"CONDITIONALS_NEGATION","status":"NOT COVERED","line":1,"column":2},
			{"type":"CONDITIONALS_NEGATION","status":"KILLED","line":1,"column":5}]}]}`), "x/y")
	require.NoError(t, err)
	assert.Equal(t, result{killed: 2, lived: 2, uncovered: 1, invalid: 1, left: []string{
		"x/y/a.go:1:1 conditionals_negation timed out",
		"x/y/a.go:1:2 conditionals_negation not covered",
		"x/y/b.go:9:3 arithmetic_base lived",
	}}, r, "a change named twice counts once, and nothing that was waited for in vain was killed")
	assert.Equal(t, 80.0, r.covered())
	assert.Equal(t, 50.0, r.efficacy())
	_, err = readReport([]byte(`{"files":[{"mutations":[{"status":"RUNNABLE"}]}]}`), "x")
	assert.Error(t, err, "a mutant that was not tried")
}

// Go's profile has no block for the condition of a case or for a package's
// variables.
func TestWiden(t *testing.T) {
	dir := t.TempDir()
	source := `package p

const a = 2 * 3

var f = func() int { return 1 + 1 }

func run(x int) int {
	switch {
	case x > 1:
		return 1
	}
	return 2
}

func idle(x int) int {
	switch {
	case x > 1:
		return 1
	}
	return 2
}
`
	require.NoError(t, os.WriteFile(filepath.Join(dir, "p.go"), []byte(source), 0o644))
	profile := "mode: set\n" +
		"m/p.go:7.21,8.9 1 1\nm/p.go:9.13,10.11 1 0\nm/p.go:12.2,12.10 1 1\n" +
		"m/p.go:15.22,16.9 1 0\n"
	added := strings.TrimPrefix(string(widen([]byte(profile), dir)), profile)
	assert.Equal(t, "m/p.go:9.7,9.12 1 1\nm/p.go:3.11,3.16 1 1\n", added)
}
