package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The package in testdata has a mutant of each kind; what its tests say of
// them was worked out by hand.
func TestMutants(t *testing.T) {
	c, err := begin()
	require.NoError(t, err)
	const place = "cmd/check/testdata/faulty/faulty.go"
	r, err := c.mutate("cmd/check/testdata/faulty", func(string) bool { return true }, 2, 1)
	require.NoError(t, err)
	assert.Equal(t, []string{
		place + ":24:68 % turned, run by no test",
		place + ":15:10 ++ turned, lived", // nobody looks at the map afterwards
		place + ":21:9 sign left out, lived",
		place + ":28:9 == negated, lived",
	}, r.left)
	assert.Equal(t, result{killed: 4, lived: 3, uncovered: 1, left: r.left}, r)
	assert.InDelta(t, 100*7./8, r.covered(), 1e-9)
	assert.InDelta(t, 100*4./7, r.efficacy(), 1e-9)

	none, err := c.mutate("cmd/check/testdata/faulty", func(file string) bool { return file == "other.go" }, 1, 1)
	assert.ErrorContains(t, err, "nothing to mutate")
	assert.Zero(t, none.all())
}

// Tests that go on for ever run into their limit of processor.
func TestHangingTests(t *testing.T) {
	loop := filepath.Join(t.TempDir(), "loop")
	require.NoError(t, os.WriteFile(loop, []byte("#!/bin/sh\nwhile [ \"$CHECK_MUTANT\" = 7 ]; do :; done\nexit $CHECK_MUTANT\n"), 0o755))
	tr := &trial{tests: loop, folder: ".", limit: 1}
	assert.Equal(t, hung, tr.try(7))
	assert.Equal(t, killed, tr.try(1))
	assert.Equal(t, lived, tr.try(0))
}

func TestWhichFilesAreMutated(t *testing.T) {
	c, err := begin()
	require.NoError(t, err)
	all, err := c.asked("cmd/check", "", "")
	require.NoError(t, err)
	assert.True(t, all("main.go"))
	some, err := c.asked("cmd/check", "", "^mutants")
	require.NoError(t, err)
	assert.True(t, some("mutants_run.go"))
	assert.False(t, some("main.go"))
	_, err = c.asked("cmd/check", "", "(")
	assert.Error(t, err)
	unchanged, err := c.asked("cmd/check", "HEAD", "")
	require.NoError(t, err)
	assert.False(t, unchanged("page.go"))
}
