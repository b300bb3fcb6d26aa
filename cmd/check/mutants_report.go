package main

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
)

// result counts the mutants of a package.
type result struct {
	killed, lived, uncovered int

	invalid int      // did not compile: no fault that a test could find
	hanging int      // of those killed: the tests did not end
	left    []string // where mutants lived or no test came by
}

func (r result) all() int          { return r.killed + r.lived + r.uncovered }
func (r result) covered() float64  { return percent(r.killed+r.lived, r.all()) }
func (r result) efficacy() float64 { return percent(r.killed, r.killed+r.lived) }

func percent(part, whole int) float64 {
	if whole == 0 {
		return 0
	}
	return 100 * float64(part) / float64(whole)
}

// mutated is a file in the report of gremlins.
type mutated struct {
	Name      string   `json:"file_name"`
	Mutations []mutant `json:"mutations"`
}

type mutant struct {
	Type   string `json:"type"`
	Status string `json:"status"`
	Line   int    `json:"line"`
	Column int    `json:"column"`
}

// readReport counts what gremlins reports of a package. Where a minus stands
// between two terms it reports one change twice, as a sign and as arithmetic;
// here it counts once. A mutant that it gave up waiting for was not killed.
func readReport(report []byte, pkg string) (result, error) {
	var all struct{ Files []mutated }
	if err := json.Unmarshal(report, &all); err != nil {
		return result{}, fmt.Errorf("gremlins: %w", err)
	}
	var r result
	slices.SortFunc(all.Files, func(a, b mutated) int { return strings.Compare(a.Name, b.Name) })
	for _, f := range all.Files {
		slices.SortFunc(f.Mutations, func(a, b mutant) int {
			if a.Line != b.Line {
				return a.Line - b.Line
			}
			return a.Column - b.Column
		})
		for i, m := range f.Mutations {
			if i > 0 && f.Mutations[i-1].Line == m.Line && f.Mutations[i-1].Column == m.Column {
				continue
			}
			switch m.Status {
			case "KILLED":
				r.killed++
				continue
			case "NOT VIABLE":
				r.invalid++
				continue
			case "NOT COVERED":
				r.uncovered++
			case "LIVED", "TIMED OUT":
				r.lived++
			default:
				return r, fmt.Errorf("gremlins: a mutant is %q", m.Status)
			}
			r.left = append(r.left, fmt.Sprintf("%s/%s:%d:%d %s %s", pkg, f.Name, m.Line, m.Column,
				strings.ToLower(m.Type), strings.ToLower(m.Status)))
		}
	}
	return r, nil
}
