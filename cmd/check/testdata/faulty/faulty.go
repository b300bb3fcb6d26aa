// Package faulty has tests that notice some faults and others not.
package faulty

const constant = 2 * 3 // is no mutant

type size float64

func bigger(a, b size) bool { return a > b }

func sum(all map[string]int) int {
	n := 0
	for range all {
		n++
	}
	all["n"]++
	return n + constant
}

func down(n int) int {
	n--
	return -n
}

func idle(text string, x int) (string, int) { return text + "!", x % 2 }

func unheard(x int) int {
	switch {
	case x == 3:
		return 1
	}
	return 2
}
