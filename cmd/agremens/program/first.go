package program

import (
	"slices"
	"strings"
)

// always belong to a program's beginning whole, whatever was called when it
// was watched: what draws and what sounds. They are small, and must not wait.
var always = []string{"github.com_ebitengine_oto_v3", "agremens_game_stage", "agremens_synth"}

// FirstVisit returns what [BuildParts] asks, from a list of the functions that
// a watched visit called, a name a line, as [Calls] tells them.
func FirstVisit(list string) func(name string) bool {
	called := map[string]bool{}
	for name := range strings.Lines(list) {
		called[strings.TrimSpace(name)] = true
	}
	return func(name string) bool {
		return called[name] || slices.ContainsFunc(always, func(a string) bool { return strings.HasPrefix(name, a) })
	}
}
