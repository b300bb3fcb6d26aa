package main

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"
)

func (c *check) timesFile() string { return filepath.Join(c.work, "times") }

// times reads how many seconds each step took when it last ran.
func (c *check) times() map[string]float64 {
	text, _ := os.ReadFile(c.timesFile()) // before the first run there is none
	times := map[string]float64{}
	for line := range strings.Lines(string(text)) {
		seconds, name, _ := strings.Cut(strings.TrimSpace(line), " ")
		if s, err := strconv.ParseFloat(seconds, 64); err == nil {
			times[name] = s
		}
	}
	return times
}

// keepTime writes down how long a step took. A file that cannot be written
// costs nothing but the figure.
func (c *check) keepTime(name string, took time.Duration) {
	times := c.times()
	times[name] = took.Seconds()
	var text strings.Builder
	for _, n := range slices.Sorted(maps.Keys(times)) {
		fmt.Fprintf(&text, "%.1f %s\n", times[n], n)
	}
	os.WriteFile(c.timesFile(), []byte(text.String()), 0o644)
}

// listSteps names the steps, how long each took last, and which run alone.
func (c *check) listSteps(steps []step) {
	times := c.times()
	sum := 0.0
	for _, s := range steps {
		took := "      not run yet"
		if t, known := times[s.name]; known {
			took = fmt.Sprintf("%7.1f s", t)
			sum += t
		}
		alone := ""
		if s.measures {
			alone = "   measures, runs alone"
		}
		fmt.Printf("%-36s %s%s\n", s.name, took, alone)
	}
	fmt.Printf("%-36s %7.1f s, of which most run two at a time\n", "one after the other", sum)
}
