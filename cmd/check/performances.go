package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// level is what a kind of sign must reach on both parts of the recordings, works
// weighing the same, in per cent: the first choice for performers at places that
// three pianists and more have played, and what at most six choices cover of all
// that was played. The covers of trills stay under 95 because two of the six are
// the plain note and one appoggiatura, and a place in a work with one recording
// weighs as much as a sonata.
type level struct {
	kind         string
	first, cover int
}

var levels = []level{
	{"trill-mark", 62, 85},
	{"inverted-mordent", 65, 92},
	{"mordent", 90, 95},
	{"turn", 71, 87},
	{"grace", 63, 95},
}

// performances compares what the program proposes with what pianists played,
// with the scorer that lies beside the recordings, and prints the tables.
func performances(c *check) tally {
	data := os.Getenv("AGREMENS_REFERENCE")
	if data == "" {
		data = filepath.Join(c.root, "..", "shared", "reference")
	}
	scorer := filepath.Join(data, "performances", "score.py")
	if _, err := os.Stat(scorer); err != nil {
		fmt.Println("skipped: no recordings to compare with at", data)
		return tally{skipped: 1}
	}
	predictions, err := c.predict(data)
	if err != nil {
		return one(err)
	}
	cases, err := c.joined("cases.jsonl", filepath.Join(data, "performances", "cases.jsonl"), filepath.Join(data, "second", "cases.jsonl"))
	if err != nil {
		return one(err)
	}
	score := func(title string, args ...string) (string, error) {
		fmt.Println("\n" + title)
		out, err := c.openly(nil, "python3", append(append([]string{scorer, "--cases", cases}, predictions...), args...)...)
		return string(out), err
	}
	first, err := score("First choice, at places that three pianists and more have played, beside them; works weigh the same", "--humans", "--min-performers", "3", "--weight", "work")
	if err != nil {
		return one(err)
	}
	cover, err := score("What at most six choices cover, of all performances; works weigh the same", "--top", "6", "--weight", "work")
	if err != nil {
		return one(err)
	}
	if _, err := score("The same by composer", "--top", "6", "--weight", "work", "--by", "kind+set"); err != nil {
		return one(err)
	}
	struckBeats, err := c.struckBeats(cases)
	if err != nil {
		return one(err)
	}
	if _, err := score("Small notes alone, where another note really strikes the beat", "--cases", struckBeats, "--kinds", "grace", "--top", "6", "--weight", "work", "--by", "kind+set"); err != nil {
		return one(err)
	}
	fmt.Println("\nRows of the published tables, and cases")
	t := tally{}
	if _, err := c.openly(nil, "go", "test", "-count=1", "-v", "-run", "^(TestPublishedRows|TestCases)$", "./realize"); err != nil {
		t.add(one(err))
	}
	t.add(reached(table(first), table(cover)))
	return t
}

// predict realizes all scores in both orders and returns the scorer's
// arguments for them.
func (c *check) predict(data string) ([]string, error) {
	program := filepath.Join(c.work, "bin", "agremens")
	if err := c.quietly(nil, "go", "build", "-o", program, "./cmd/agremens"); err != nil {
		return nil, err
	}
	var args []string
	for _, order := range []string{"performers", "sources"} {
		var all []byte
		for scores, manifest := range map[string]string{"scores": "scores/manifest.tsv", "second/scores": "second/manifest.tsv"} {
			cmd := c.command(nil, "python3", filepath.Join(data, "performances", "predict.py"),
				"--scores", filepath.Join(data, scores), "--manifest", filepath.Join(data, manifest),
				"--cmd", program+" realize -format json -prefer "+order+" {file}")
			cmd.Stderr = os.Stdout
			out, err := cmd.Output()
			if err != nil {
				return nil, fmt.Errorf("realizing the scores: %w", err)
			}
			all = append(all, out...)
		}
		name := filepath.Join(c.work, "played-"+order+".jsonl")
		if err := os.WriteFile(name, all, 0o644); err != nil {
			return nil, err
		}
		args = append(args, "--pred", order+"="+name)
	}
	return args, nil
}

// joined writes files one after the other and returns the name.
func (c *check) joined(name string, files ...string) (string, error) {
	var all []byte
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			return "", err
		}
		all = append(all, data...)
	}
	name = filepath.Join(c.work, name)
	return name, os.WriteFile(name, all, 0o644)
}

// struckBeats writes a copy of the cases without those whose beat could only be
// guessed between its neighbours, and returns its name.
func (c *check) struckBeats(cases string) (string, error) {
	data, err := os.ReadFile(cases)
	if err != nil {
		return "", err
	}
	var kept []string
	for _, line := range strings.Split(string(data), "\n") {
		if !strings.Contains(line, `"beat_source":"interp"`) {
			kept = append(kept, line)
		}
	}
	name := filepath.Join(c.work, "struck.jsonl")
	return name, os.WriteFile(name, []byte(strings.Join(kept, "\n")), 0o644)
}

// table reads the scorer's table: kind and predictor to column to cell.
func table(text string) map[string]map[string]string {
	rows := map[string]map[string]string{}
	var head []string
	for _, line := range strings.Split(text, "\n") {
		cells := strings.Split(strings.Trim(line, "| "), "|")
		for i := range cells {
			cells[i] = strings.TrimSpace(cells[i])
		}
		switch {
		case len(cells) < 3 || strings.HasPrefix(cells[0], "---"):
		case head == nil:
			head = cells
		default:
			row := map[string]string{}
			for i := range min(len(head), len(cells)) {
				row[head[i]] = cells[i]
			}
			rows[cells[0]+" "+cells[1]] = row
		}
	}
	return rows
}

// reached compares with the levels.
func reached(first, cover map[string]map[string]string) tally {
	var t tally
	say := func(what, cell string, least int) {
		n, err := strconv.Atoi(strings.TrimSuffix(cell, "%"))
		if err != nil || n < least {
			t.failed++
			fmt.Printf("%s: %s, wanted %d%%\n", what, cell, least)
			return
		}
		t.passed++
	}
	for _, l := range levels {
		column := "seq"
		if l.kind == "grace" {
			column = "hit"
		}
		say("first choice, "+l.kind, first[l.kind+" performers"][column], l.first)
		for _, order := range []string{" performers", " sources"} {
			row := cover[l.kind+order]
			say("covered, "+l.kind+","+order, row["cover"], l.cover)
			if k, err := strconv.ParseFloat(row["k"], 64); err != nil || k > 6 {
				t.failed++
				fmt.Printf("%s: %s choices in the mean\n", l.kind, row["k"])
			}
		}
	}
	return t
}
