package main

import (
	"fmt"
	"slices"
	"strings"
)

var js = []string{"GOOS=js", "GOARCH=wasm"}

// format fails on files that gofmt would change.
func format(c *check) tally {
	out, err := c.command(nil, "gofmt", "-l", ".").Output()
	if err == nil && len(out) > 0 {
		err = fmt.Errorf("gofmt would change:\n%s", out)
	}
	return one(err)
}

func vet(c *check) tally {
	native, err := c.native()
	if err != nil {
		return one(err)
	}
	return one(c.quietly(nil, "go", append([]string{"vet"}, native...)...))
}

// vetBrowser looks at what is other in the browser: a package that is built
// from the same files everywhere has been looked at.
func vetBrowser(c *check) tally {
	packages, err := c.otherInBrowser()
	if err != nil {
		return one(err)
	}
	return one(c.quietly(js, "go", append([]string{"vet"}, packages...)...))
}

func staticcheck(c *check) tally {
	native, err := c.native()
	if err != nil {
		return one(err)
	}
	browser, err := c.otherInBrowser()
	if err != nil {
		return one(err)
	}
	t := one(c.quietly(nil, c.bin("staticcheck"), native...))
	t.add(one(c.quietly(js, c.bin("staticcheck"), browser...)))
	return t
}

// testNative runs every package's tests but those that say they are long, such
// as readers that are not ours on all reference scores. The go command knows
// which of them stand as they were, and does not run those again.
func testNative(c *check) tally {
	native, err := c.native()
	if err != nil {
		return one(err)
	}
	// Independent readers of what we write come from npm.
	return c.goTest([]string{c.nodePath()}, append([]string{"-short", "-timeout=10m"}, native...)...)
}

// testShuffled runs all of them anew, the long ones too, in another order.
func testShuffled(c *check) tally {
	native, err := c.native()
	if err != nil {
		return one(err)
	}
	return c.goTest([]string{c.nodePath()}, append([]string{"-shuffle=on", "-count=1", "-timeout=10m"}, native...)...)
}

// floatsDecide are the packages where what a float comes to decides what is
// played, judged, drawn or said. They are tested on the users' own arithmetic
// at every change, the others with the slow steps.
var floatsDecide = []string{
	"assets/font", "game/calibration", "game/engrave", "game/look", "game/rate", "game/round",
	"realize/perf", "realize/tap", "synth", "synth/clock", "synth/tuning",
}

// testNode runs the pure packages where floats decide as the WebAssembly that
// users get; testNodeRest runs the others.
func testNode(c *check) tally     { return c.testInNode(true) }
func testNodeRest(c *check) tally { return c.testInNode(false) }

func (c *check) testInNode(floats bool) tally {
	pure, err := c.pure()
	if err != nil {
		return one(err)
	}
	chosen := slices.DeleteFunc(pure, func(path string) bool {
		return slices.Contains(floatsDecide, strings.TrimPrefix(path, "agremens/")) != floats
	})
	node, err := c.nodeExec()
	if err != nil {
		return one(err)
	}
	return c.goTest(js, append([]string{"-short", "-timeout=15m", "-exec=" + node}, chosen...)...)
}

// testBrowser runs the packages that draw or touch the page in Chromium.
func testBrowser(c *check) tally {
	packages, err := c.inBrowser()
	if err != nil {
		return one(err)
	}
	if len(packages) == 0 {
		return one(fmt.Errorf("no package has tests for the browser"))
	}
	return c.goTest(js, append([]string{"-p=1", "-timeout=5m", "-exec=" + c.bin("wasmbrowsertest")}, packages...)...)
}
