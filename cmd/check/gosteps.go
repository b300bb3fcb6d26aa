package main

import "fmt"

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

func vetBrowser(c *check) tally { return one(c.quietly(js, "go", "vet", "./...")) }

func staticcheck(c *check) tally {
	native, err := c.native()
	if err != nil {
		return one(err)
	}
	t := one(c.quietly(nil, c.bin("staticcheck"), native...))
	t.add(one(c.quietly(js, c.bin("staticcheck"), "./...")))
	return t
}

func testNative(c *check) tally {
	native, err := c.native()
	if err != nil {
		return one(err)
	}
	// Independent readers of what we write come from npm.
	return c.goTest([]string{c.nodePath()}, append([]string{"-shuffle=on", "-timeout=10m"}, native...)...)
}

// testNode runs the pure packages as the WebAssembly that users get.
func testNode(c *check) tally {
	pure, err := c.pure()
	if err != nil {
		return one(err)
	}
	node, err := c.nodeExec()
	if err != nil {
		return one(err)
	}
	return c.goTest(js, append([]string{"-short", "-timeout=15m", "-exec=" + node}, pure...)...)
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
