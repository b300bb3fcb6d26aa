package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"agremens/cmd/check/tone"
)

// benchTone prints how near the instruments come to recorded ones, and writes the
// page of their spectra and decays. AGREMENS_TONE names the folder of the
// recordings, which are built there the first time: half a gigabyte.
func benchTone(c *check) tally {
	folder := os.Getenv("AGREMENS_TONE")
	if folder == "" {
		folder = filepath.Join(os.TempDir(), "agremens-tone")
	}
	err := tone.Bench(c.out, tone.Bank{Folder: folder})
	if errors.Is(err, tone.ErrNothing) {
		fmt.Fprintln(c.out, "skipped:", err)
		return tally{skipped: 1}
	}
	return one(err)
}
