package main

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"

	"agremens/cmd/agremens/program"
)

// firstVisit writes cmd/agremens-web/first-visit.txt anew: the functions that
// first visits in Chromium call. The build puts them into the part of the
// program that is waited for.
func firstVisit(c *check) tally {
	chromium, err := exec.LookPath("chromium")
	if err != nil {
		return one(err)
	}
	module, err := program.BuildNamed(c.root, "./cmd/agremens-web", filepath.Join(c.work, "named.wasm"), os.Stdout)
	if err != nil {
		return one(err)
	}
	marked, err := program.Marked(module)
	if err != nil {
		return one(err)
	}
	name := filepath.Join(c.work, "marked.wasm")
	if err := os.WriteFile(name, marked, 0o644); err != nil {
		return one(err)
	}
	cmd := c.command([]string{"AGREMENS_CHROMIUM=" + chromium, "AGREMENS_SITE=" + filepath.Join(c.work, "site"), "AGREMENS_MARKED=" + name},
		"node", filepath.Join("web", "e2e", "first-visit.mjs"), filepath.Join("game", "lesson", "testdata", "links-2026-11.txtar"))
	cmd.Stderr = os.Stdout
	out, err := cmd.Output()
	if err != nil {
		return one(err)
	}
	var called []uint32
	if err := json.Unmarshal(out, &called); err != nil {
		return one(err)
	}
	names, err := program.Calls(module, called)
	if err != nil {
		return one(err)
	}
	slices.Sort(names)
	names = slices.Compact(names)
	fmt.Printf("%d functions\n", len(names))
	return one(os.WriteFile(filepath.Join(c.root, "cmd", "agremens-web", "first-visit.txt"), []byte(strings.Join(names, "\n")+"\n"), 0o644))
}
