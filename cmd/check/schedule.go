package main

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"sync"
	"time"
)

// abreast is how many steps run at the same time. Most of them wait as much as
// they compute, or compute on one core.
const abreast = 2

// outcome is how a step ended.
type outcome struct {
	step
	tally
	took    time.Duration
	printed []byte // what was kept together; nothing where it was seen at once
}

// runAll runs the steps, each as soon as what it needs is done, and returns
// the exit code.
func (c *check) runAll(steps []step) int {
	defer c.stopSession()
	c.stopWhenTold()
	began := time.Now()
	waiting := slices.Clone(steps)
	failed := map[string]bool{} // of the steps that are done
	ended := make(chan outcome)
	var under []step
	var rows []string
	var total tally
	for len(waiting)+len(under) > 0 {
		for {
			i := next(waiting, under, failed)
			if i < 0 {
				break
			}
			s := waiting[i]
			waiting = slices.Delete(waiting, i, i+1)
			under = append(under, s)
			lacks := broken(s, failed)
			go func() { ended <- c.runOne(s, lacks) }()
		}
		o := <-ended
		under = slices.DeleteFunc(under, func(s step) bool { return s.name == o.name })
		failed[o.name] = o.failed > 0
		total.add(o.tally)
		row := fmt.Sprintf("%-36s %7.1f s   %s", o.name, o.took.Seconds(), o.tally)
		fmt.Printf("%s%s--- %s\n", o.printed, o.why, row)
		rows = append(rows, row)
		c.keepTime(o.name, o.took)
	}
	fmt.Printf("\n%s\n%-36s %7.1f s\n\n", strings.Join(rows, "\n"), "together", time.Since(began).Seconds())
	if len(rows) == 0 {
		fmt.Println("no step was chosen")
		return 2
	}
	fmt.Println(total)
	if total.failed > 0 {
		return 1
	}
	return 0
}

// next returns which of the waiting steps may begin beside those under way, -1
// when none may yet. What measures comes when nothing else can run: so the
// cores are never idle before it.
func next(waiting, under []step, done map[string]bool) int {
	if len(under) >= abreast || slices.ContainsFunc(under, func(s step) bool { return s.measures }) {
		return -1
	}
	ready := func(s step) bool {
		return !slices.ContainsFunc(s.needs, func(name string) bool {
			_, is := done[name]
			return !is && named(name, waiting, under)
		})
	}
	if i := slices.IndexFunc(waiting, func(s step) bool { return !s.measures && ready(s) }); i >= 0 {
		return i
	}
	if len(under) > 0 {
		return -1
	}
	return slices.IndexFunc(waiting, ready)
}

func named(name string, lists ...[]step) bool {
	return slices.ContainsFunc(slices.Concat(lists...), func(s step) bool { return s.name == name })
}

// broken names a step that s needs and that failed, "" when there is none.
func broken(s step, failed map[string]bool) string {
	if i := slices.IndexFunc(s.needs, func(name string) bool { return failed[name] }); i >= 0 {
		return s.needs[i]
	}
	return ""
}

// runOne runs a step unless something it needs is broken. What a measuring
// step prints is seen at once; what others print is kept together.
func (c *check) runOne(s step, lacks string) outcome {
	began := time.Now()
	own := *c
	var kept keeper
	if own.out = &kept; s.measures {
		own.out = os.Stdout
	}
	fmt.Fprintf(own.out, "\n=== %s\n", s.name)
	t := tally{failed: 1, why: fmt.Sprintf("not run: it needs the step %q, which failed\n", lacks)}
	if lacks == "" {
		t = s.run(&own)
	}
	return outcome{step: s, tally: t, took: time.Since(began), printed: kept.text}
}

// keeper keeps what is written to it, by several commands at a time.
type keeper struct {
	mu   sync.Mutex
	text []byte
}

func (k *keeper) Write(p []byte) (int, error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.text = append(k.text, p...)
	return len(p), nil
}
