package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The lines below are what go test -json (Go 1.26) prints, shortened.
func TestCountTests(t *testing.T) {
	for _, c := range []struct {
		name  string
		lines []string
		want  tally
		shows string
	}{
		{
			name: "passed, with a subtest that is not counted",
			lines: []string{
				`{"Action":"pass","Package":"p","Test":"TestA/one"}`,
				`{"Action":"pass","Package":"p","Test":"TestA"}`,
				`{"Action":"pass","Package":"p","Elapsed":0.1}`,
			},
			want: tally{passed: 1}, shows: "ok    p",
		},
		{
			name: "failed shows its output",
			lines: []string{
				`{"Action":"output","Package":"p","Test":"TestA","Output":"got 1, want 2\n"}`,
				`{"Action":"fail","Package":"p","Test":"TestA"}`,
				`{"Action":"pass","Package":"p","Test":"TestB"}`,
				`{"Action":"fail","Package":"p"}`,
			},
			want: tally{passed: 1, failed: 1}, shows: "got 1, want 2",
		},
		{
			name: "a package that did not build counts once",
			lines: []string{
				`{"ImportPath":"p","Action":"build-output","Output":"p.go:3:2: undefined: x\n"}`,
				`{"Action":"output","Package":"p","Output":"FAIL p [build failed]\n"}`,
				`{"Action":"fail","Package":"p"}`,
			},
			want: tally{failed: 1}, shows: "undefined: x",
		},
		{
			name: "skipped is said",
			lines: []string{
				`{"Action":"skip","Package":"p","Test":"TestScores"}`,
				`{"Action":"pass","Package":"p"}`,
			},
			want: tally{skipped: 1}, shows: "TestScores",
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			var shown strings.Builder
			assert.Equal(t, c.want, countTests(strings.NewReader(strings.Join(c.lines, "\n")), &shown))
			assert.Contains(t, shown.String(), c.shows)
		})
	}
}

func TestCountOfNode(t *testing.T) {
	out := []byte("ok 1 - a\n# pass 3 is what a test printed\n# pass 12\n# fail 1\n")
	assert.Equal(t, 12, count(out, "pass"))
	assert.Equal(t, 1, count(out, "fail"))
	assert.Equal(t, 0, count(out, "cancelled"))
}

func TestChooseTakesWhatIsNeeded(t *testing.T) {
	steps := []step{{name: "install"}, {name: "build"}, {name: "e2e page", needs: []string{"build"}}, {name: "vet"}}
	var names []string
	for _, s := range choose(steps, "e2e") {
		names = append(names, s.name)
	}
	assert.Equal(t, []string{"build", "e2e page"}, names)
}

func TestStepsNeedEarlierSteps(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range allSteps {
		assert.False(t, seen[s.name], "%s stands twice", s.name)
		for _, n := range s.needs {
			assert.True(t, seen[n], "%s needs %s before it", s.name, n)
		}
		seen[s.name] = true
	}
}

func TestTheScorersTable(t *testing.T) {
	rows := table("| kind | predictor | seq | k |\n|---|---|---|---|\n| turn | sources | 56% | 6.0 |\n")
	if got := rows["turn sources"]["seq"]; got != "56%" {
		t.Errorf("the cell is %q", got)
	}
	bad := reached(rows, rows)
	if bad.passed != 0 || bad.failed == 0 {
		t.Errorf("nothing is reached by an empty table, got %v", bad)
	}
}
