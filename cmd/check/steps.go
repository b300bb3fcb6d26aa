package main

import (
	"slices"
	"strings"
)

// tiers are what can be asked for by name; "" is what every change must pass.
var tiers = map[string][]step{
	"":            quickSteps,
	"slow":        merged(setup, slowSteps, widerSteps),
	"all":         merged(setup, without("test", quickSteps), slowSteps),
	"ci":          merged(setup, without("test", quickSteps), withoutBrowser(slowSteps)),
	"bench":       merged(setup, alone(benchSteps)),
	"sound-long":  merged(setup, alone(longSteps)),
	"first-visit": merged(setup, alone(firstSteps)),
}

// Names of steps that others need.
const (
	programs  = "install programs"
	browsers  = "install browsers"
	goTools   = "install tools"
	packages  = "install node packages"
	building  = "build the page"
	releasing = "pack the page for release"
	serving   = "serve the page"
	starting  = "start the browsers"
)

// page is what an end-to-end test needs, desktop what one in other browsers
// needs, costs what a table of costs needs.
var (
	page    = []string{programs, packages, building, serving, starting}
	desktop = []string{programs, browsers, packages, building, serving}
	costs   = []string{programs, packages, building, releasing}
)

// setup are the steps that others need. They are run where they are needed.
var setup = []step{
	{name: programs, run: install(always)},
	{name: packages, needs: []string{programs}, run: installNode},
	{name: goTools, run: installTools},
	{name: browsers, needs: []string{programs}, run: install(engines)},
	{name: building, run: buildPage},
	{name: serving, needs: []string{building}, run: servePage},
	{name: starting, needs: []string{programs, packages}, run: startBrowsers},
	{name: releasing, needs: []string{building}, run: releasePage},
}

// quickSteps are begun in this order, as soon as what they need is done: what
// takes long and what is quick to fail comes first, what measures comes last.
var quickSteps = needed(append(slices.Clone(setup), []step{
	{name: "gofmt", run: format},
	{name: "vet", run: vet},
	{name: "test", needs: []string{programs, packages}, run: testNative},
	{name: "e2e access", needs: page, run: endToEnd("access.test.mjs")},
	{name: "e2e loop", needs: page, run: endToEnd("loop.test.mjs")},
	{name: "e2e practice", needs: page, run: endToEnd("practice.test.mjs")},
	{name: "e2e class", needs: page, run: endToEnd("class.test.mjs")},
	{name: "vet for the browser", run: vetBrowser},
	{name: "e2e page", needs: page, run: endToEnd("page.test.mjs")},
	{name: "e2e send", needs: page, run: endToEnd("send.test.mjs")},
	{name: "e2e locked", needs: page, run: endToEnd("locked.test.mjs")},
	{name: "e2e bring", needs: page, run: endToEnd("bring.test.mjs")},
	{name: "e2e words", needs: page, run: endToEnd("words.test.mjs")},
	{name: "e2e files", needs: page, run: endToEnd("files.test.mjs")},
	{name: "e2e edit", needs: page, run: endToEnd("edit.test.mjs")},
	{name: "e2e tablet", needs: page, run: endToEnd("tablet.test.mjs")},
	{name: "e2e look", needs: page, run: endToEnd("look.test.mjs")},
	{name: "e2e places", needs: page, run: endToEnd("places.test.mjs")},
	{name: "e2e boxes", needs: page, run: endToEnd("boxes.test.mjs")},
	{name: "e2e first minute", needs: page, run: endToEnd("first.test.mjs")},
	{name: "e2e rest", needs: page, run: endToEnd("rest.test.mjs")},
	{name: "e2e print", needs: page, run: endToEnd("print.test.mjs")},
	{name: "e2e change", needs: page, run: endToEnd("change.test.mjs")},
	{name: "e2e cases", needs: page, run: endToEnd("cases.test.mjs")},
	{name: "e2e robot", needs: page, measures: true, run: endToEnd("robot.test.mjs")},
}...))

// slowSteps are what takes too long for every change: what the files of the
// quick steps keep for later, the weight, the users' own arithmetic, pictures
// at every size, every kind of round by key and by glass, MIDI and the
// player's rate, and all but one of the measurements.
var slowSteps = []step{
	{name: "test everything, shuffled", needs: []string{programs, packages}, run: testShuffled},
	{name: "weight", needs: []string{building}, run: weight},
	{name: "e2e piano", needs: page, run: endToEnd("piano.test.mjs")},
	{name: "e2e beside", needs: page, run: endToEnd("beside.test.mjs")},
	{name: "e2e takedown", needs: page, run: endToEnd("takedown.test.mjs")},
	{name: "e2e kinds", needs: page, run: endToEnd("kinds.test.mjs")},
	{name: "test as WebAssembly", needs: []string{programs}, run: testNode},
	{name: "e2e access, more", needs: page, run: slowly("access.test.mjs")},
	{name: "e2e files, more", needs: page, run: slowly("files.test.mjs")},
	{name: "e2e kept", needs: page, run: endToEnd("kept.test.mjs")},
	{name: "e2e windows", needs: page, run: endToEnd("windows.test.mjs")},
	{name: "e2e tablet, more", needs: page, run: slowly("tablet.test.mjs")},
	{name: "e2e page, more", needs: page, run: slowly("page.test.mjs")},
	{name: "e2e loop, more", needs: page, run: slowly("loop.test.mjs")},
	{name: "e2e practice, more", needs: page, run: slowly("practice.test.mjs")},
	{name: "e2e class, more", needs: page, run: slowly("class.test.mjs")},
	{name: "e2e bring, more", needs: page, run: slowly("bring.test.mjs")},
	{name: "e2e words, more", needs: page, run: slowly("words.test.mjs")},
	{name: "e2e look, more", needs: page, run: slowly("look.test.mjs")},
	{name: "e2e places, more", needs: page, run: slowly("places.test.mjs")},
	{name: "e2e boxes, more", needs: page, run: slowly("boxes.test.mjs")},
	{name: "e2e first minute, more", needs: page, run: slowly("first.test.mjs")},
	{name: "staticcheck", needs: []string{goTools}, run: staticcheck},
	{name: "test drawing in the browser", needs: []string{programs, goTools}, run: testBrowser},
	{name: "e2e fault", needs: page, run: endToEnd("fault.test.mjs")},
	{name: "e2e hearing", needs: page, run: endToEnd("hearing.test.mjs")},
	{name: "e2e edit, more", needs: page, run: slowly("edit.test.mjs")},
	{name: "e2e rest, more", needs: page, run: slowly("rest.test.mjs")},
	{name: "e2e print, more", needs: page, run: slowly("print.test.mjs")},
	{name: "e2e road", needs: page, measures: true, run: endToEnd("road.test.mjs")},
	{name: "e2e audio", needs: page, measures: true, run: wholly("audio.test.mjs")},
	{name: "e2e sound", needs: page, measures: true, run: wholly("sound.test.mjs")},
	{name: "e2e instruments", needs: page, measures: true, run: endToEnd("instruments.test.mjs")},
	{name: "e2e tapped", needs: page, measures: true, run: endToEnd("tapped.test.mjs")},
	{name: "e2e robot, more", needs: page, measures: true, run: slowly("robot.test.mjs")},
}

// widerSteps are slow too, but not for continuous integration: the sound and
// the lesson in other browsers, until they have been seen to pass five times of
// five on a machine like its own, packages as WebAssembly whose results do not
// hang on floats, how soon a change of the source is on the page, and the
// pictures at every size, of which the largest once stopped the page.
var widerSteps = []step{
	{name: "test the rest as WebAssembly", needs: []string{programs}, run: testNodeRest},
	{name: "e2e screens", needs: page, run: endToEnd("screens.test.mjs")},
	{name: "e2e watch", needs: page, measures: true, run: endToEnd("watch.test.mjs")},
	{name: "e2e loop in engines", needs: desktop, run: endToEnd("loop-engines.test.mjs")},
	{name: "e2e listen in engines", needs: desktop, run: endToEnd("listen-engines.test.mjs")},
	{name: "e2e engines", needs: desktop, measures: true, run: endToEnd("engines.test.mjs")},
}

// longSteps are what wants a quiet machine and most of an hour: all delays and
// tempi of the sound in every browser, ten minutes without a hole, and what
// twenty minutes of rounds leave in memory.
var longSteps = []step{
	{name: "memory, round after round", needs: costs, run: cost("memory")},
	{name: "chromium for long", needs: desktop, run: endToEnd("engines.test.mjs", "AGREMENS_ENGINE=chromium", "AGREMENS_LONG=1", "AGREMENS_SOAK=600")},
	{name: "firefox for long", needs: desktop, run: endToEnd("engines.test.mjs", "AGREMENS_ENGINE=firefox", "AGREMENS_LONG=1", "AGREMENS_SOAK=600")},
	{name: "webkit for long", needs: desktop, run: endToEnd("engines.test.mjs", "AGREMENS_ENGINE=webkit", "AGREMENS_LONG=1", "AGREMENS_SOAK=600")},
}

// firstSteps write which functions of the program are loaded first.
var firstSteps = []step{
	{name: "first visit", needs: []string{programs, packages, building}, run: firstVisit},
}

// benchSteps print the benchmark tables.
var benchSteps = []step{
	{name: "weight", needs: []string{building}, run: weight},
	{name: "weight by package", run: weighing},
	{name: "cost of the start", needs: costs, run: cost("start")},
	{name: "cost of a frame", needs: costs, run: cost("frames")},
	{name: "cost of an answer", needs: costs, run: cost("answers")},
	{name: "bench opening", needs: []string{programs, packages}, run: benchOpening},
	{name: "bench", run: bench},
	{name: "bench sound in the browser", needs: []string{programs, goTools}, run: benchBrowser},
	{name: "bench listening in the browser", needs: []string{programs, goTools}, run: benchListening},
	{name: "recordings", run: recordings},
	{name: "drawing in the browser", needs: []string{programs, goTools}, run: drawing},
	{name: "table of the instruments", run: instruments},
	{name: "tone beside recordings", run: benchTone},
	{name: "engraving sheet", needs: []string{programs, packages}, run: engraving},
	{name: "performances", run: performances},
	{name: "habits", run: habits},
}

// merged puts lists of steps one after the other, each name once, without the
// setup that nothing needs.
func merged(lists ...[]step) []step {
	var steps []step
	for _, s := range slices.Concat(lists...) {
		if !named(s.name, steps) {
			steps = append(steps, s)
		}
	}
	return needed(steps)
}

// without leaves one step out: the slow tier has its whole.
func without(name string, steps []step) []step {
	return slices.DeleteFunc(slices.Clone(steps), func(s step) bool { return s.name == name })
}

// withoutBrowser leaves out the end-to-end tests.
func withoutBrowser(steps []step) []step {
	return slices.DeleteFunc(slices.Clone(steps), func(s step) bool { return strings.HasPrefix(s.name, "e2e ") })
}

// needed leaves out the setup that no step needs.
func needed(steps []step) []step {
	return slices.DeleteFunc(slices.Clone(steps), func(s step) bool {
		return named(s.name, setup) && !slices.ContainsFunc(steps, func(other step) bool { return slices.Contains(other.needs, s.name) })
	})
}

// alone marks steps as measuring, so that each runs by itself.
func alone(steps []step) []step {
	steps = slices.Clone(steps)
	for i := range steps {
		steps[i].measures = true
	}
	return steps
}
