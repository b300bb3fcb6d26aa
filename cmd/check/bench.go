package main

import "path/filepath"

// bench prints the benchmarks of all packages that have any.
func bench(c *check) tally {
	native, err := c.native()
	if err != nil {
		return one(err)
	}
	_, err = c.openly(nil, "go", append([]string{"test", "-run=^$", "-bench=.", "-benchmem", "-p=1"}, native...)...)
	return one(err)
}

// benchBrowser prints how many times faster than it sounds each instrument is
// rendered where it is used, as WebAssembly in a browser.
func benchBrowser(c *check) tally {
	_, err := c.openly(js, "go", "test", "-run=^$", "-bench=Dense", "-exec="+c.bin("wasmbrowsertest"), "./synth")
	return one(err)
}

// benchListening prints how much of a second of sound it takes to hear it, as
// WebAssembly in a browser.
func benchListening(c *check) tally {
	_, err := c.openly(js, "go", "test", "-run=^$", "-bench=Listen", "-exec="+c.bin("wasmbrowsertest"), "./realize/hear")
	return one(err)
}

// recordings listens to the recordings that AGREMENS_RECORDINGS names.
func recordings(c *check) tally {
	_, err := c.openly(nil, "go", "test", "-count=1", "-v", "-timeout=1h", "-run=^TestRecordings$", "./cmd/agremens")
	return one(err)
}

// instruments prints what is measured on rendered audio: pitch, crest, offset,
// clicks and decay over two octaves.
func instruments(c *check) tally {
	_, err := c.openly(nil, "go", "test", "-count=1", "-v", "-run=^TestTable$", "./synth")
	return one(err)
}

// drawing prints what a frame costs in Chromium, beside an empty program.
func drawing(c *check) tally {
	_, err := c.openly(js, "go", "test", "-run=^$", "-bench=.", "-benchmem", "-v", "-exec="+c.bin("wasmbrowsertest"), "./game/stage")
	return one(err)
}

// engraving writes a page of 30 reference scores, each beside what a general
// engraving library makes of the same bars, and prints the table of faults.
func engraving(c *check) tally {
	_, err := c.openly([]string{c.nodePath(), "AGREMENS_FAULTS=1", "AGREMENS_SHEET=" + filepath.Join(c.root, ".check", "engraving")},
		"go", "test", "-count=1", "-v", "-run=^(TestSheetBesideAnother|TestFaultsMayOnlyFall)$", "./game/engrave")
	return one(err)
}
