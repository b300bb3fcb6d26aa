package main

import (
	"strconv"
	"strings"
)

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

func yes(on bool) string {
	if on {
		return "yes"
	}
	return ""
}

// whole reads a whole number, 0 where there is none.
func whole(s string) int {
	n, err := strconv.Atoi(strings.TrimSpace(s))
	if err != nil {
		return 0
	}
	return n
}
