package main

import (
	"os"
	"path/filepath"
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
	steps := []step{{name: "install"}, {name: "build", needs: []string{"install"}}, {name: "e2e page", needs: []string{"build"}}, {name: "vet"}}
	var names []string
	for _, s := range choose(steps, "e2e") {
		names = append(names, s.name)
	}
	assert.Equal(t, []string{"install", "build", "e2e page"}, names)
}

func TestStepsNeedEarlierSteps(t *testing.T) {
	for tier, steps := range tiers {
		seen := map[string]bool{}
		for _, s := range steps {
			assert.False(t, seen[s.name], "%s: %s stands twice", tier, s.name)
			for _, n := range s.needs {
				assert.True(t, seen[n], "%s: %s needs %s before it", tier, s.name, n)
			}
			seen[s.name] = true
		}
	}
}

func TestEveryEndToEndFileIsRun(t *testing.T) {
	files, err := filepath.Glob("../../web/e2e/*.test.mjs")
	assert.NoError(t, err)
	assert.NotEmpty(t, files)
	text, err := os.ReadFile("steps.go")
	assert.NoError(t, err)
	runs := func(by, name string) bool { return strings.Contains(string(text), by+`("`+name+`"`) }
	for _, f := range files {
		name := filepath.Base(f)
		body, err := os.ReadFile(f)
		assert.NoError(t, err)
		switch {
		case !strings.Contains(string(body), "tier.mjs"):
			assert.True(t, runs("endToEnd", name), "no step runs %s", name)
		case !runs("wholly", name):
			assert.True(t, runs("endToEnd", name), "no step runs %s at every change", name)
			assert.True(t, runs("slowly", name), "no step runs what %s keeps for the slow tier", name)
		}
	}
}

func TestNextStep(t *testing.T) {
	build, page, look := step{name: "build"}, step{name: "page", needs: []string{"build"}}, step{name: "look", needs: []string{"build"}}
	vet, sound := step{name: "vet"}, step{name: "sound", measures: true}
	done := map[string]bool{"build": false}
	for _, c := range []struct {
		name           string
		waiting, under []step
		done           map[string]bool
		want           int
	}{
		{"the first that is ready", []step{page, vet}, []step{build}, nil, 1},
		{"nothing is ready", []step{page}, []step{build}, nil, -1},
		{"what is needed is done", []step{page}, nil, done, 0},
		{"what is needed failed: it is begun, and says so", []step{page}, nil, map[string]bool{"build": true}, 0},
		{"what is needed was not asked for", []step{page}, nil, nil, 0},
		{"two at a time", []step{vet}, []step{page, look}, done, -1},
		{"what measures waits for an empty machine", []step{sound}, []step{vet}, nil, -1},
		{"what measures comes last", []step{sound, vet}, nil, nil, 1},
		{"what measures has its turn", []step{sound}, nil, nil, 0},
		{"nothing runs beside what measures", []step{vet}, []step{sound}, nil, -1},
	} {
		t.Run(c.name, func(t *testing.T) { assert.Equal(t, c.want, next(c.waiting, c.under, c.done)) })
	}
}

func TestRunAllKeepsTimesAndGoesOnAfterAFailure(t *testing.T) {
	c := &check{work: t.TempDir(), session: &session{}}
	ran := make(chan string, 3)
	does := func(name string, result tally) func(*check) tally {
		return func(*check) tally { ran <- name; return result }
	}
	code := c.runAll([]step{
		{name: "broken", run: does("broken", tally{failed: 1})},
		{name: "needs it", needs: []string{"broken"}, run: does("needs it", tally{passed: 1})},
		{name: "sound", measures: true, run: does("sound", tally{passed: 1})},
	})
	close(ran)
	assert.Equal(t, 1, code)
	var names []string
	for name := range ran {
		names = append(names, name)
	}
	assert.Equal(t, []string{"broken", "sound"}, names)
	assert.Contains(t, c.times(), "sound")
}

func TestWhatAStepPrintsIsKeptTogether(t *testing.T) {
	c := &check{work: t.TempDir(), session: &session{}}
	o := c.runOne(step{name: "prints", run: func(c *check) tally {
		_, err := c.openly(nil, "sh", "-c", "for i in 1 2 3 4 5 6 7 8 9; do echo out; echo err >&2; done")
		return one(err)
	}}, "")
	assert.Equal(t, tally{passed: 1}, o.tally)
	assert.Equal(t, 9, strings.Count(string(o.printed), "out\n"))
	assert.Equal(t, 9, strings.Count(string(o.printed), "err\n"))
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
