package main

// bench prints the benchmarks of all packages that have any.
func bench(c *check) tally {
	native, err := c.native()
	if err != nil {
		return one(err)
	}
	_, err = c.openly(nil, "go", append([]string{"test", "-run=^$", "-bench=.", "-benchmem", "-p=1"}, native...)...)
	return one(err)
}
