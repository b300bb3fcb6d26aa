package main

import "slices"

// allSteps are run in this order: what is quick to fail comes first.
var allSteps = []step{
	{name: "install programs", run: install},
	{name: "install tools", run: installTools},
	{name: "install node packages", needs: []string{"install programs"}, run: installNode},
	{name: "gofmt", run: format},
	{name: "vet", run: vet},
	{name: "vet for the browser", run: vetBrowser},
	{name: "staticcheck", needs: []string{"install tools"}, run: staticcheck},
	{name: "test", needs: []string{"install programs", "install node packages"}, run: testNative},
	{name: "test as WebAssembly", needs: []string{"install programs"}, run: testNode},
	{name: "test drawing in the browser", needs: []string{"install programs", "install tools"}, run: testBrowser},
	{name: "build the page", run: buildPage},
	{name: "weight", needs: []string{"build the page"}, run: weight},
	{name: "serve the page", needs: []string{"build the page"}, run: servePage},
	{name: "e2e page", needs: page, run: endToEnd("page.test.mjs")},
	{name: "e2e rest", needs: page, run: endToEnd("rest.test.mjs")},
	{name: "e2e fault", needs: page, run: endToEnd("fault.test.mjs")},
	{name: "e2e files", needs: page, run: endToEnd("files.test.mjs")},
	{name: "e2e robot", needs: page, run: endToEnd("robot.test.mjs")},
	{name: "e2e sound", needs: page, run: endToEnd("sound.test.mjs")},
	{name: "e2e audio", needs: page, run: endToEnd("audio.test.mjs")},
	{name: "e2e loop", needs: page, run: endToEnd("loop.test.mjs")},
	{name: "e2e practice", needs: page, run: endToEnd("practice.test.mjs")},
	{name: "e2e bring", needs: page, run: endToEnd("bring.test.mjs")},
	{name: "e2e edit", needs: page, run: endToEnd("edit.test.mjs")},
	{name: "e2e send", needs: page, run: endToEnd("send.test.mjs")},
	{name: "e2e road", needs: page, run: endToEnd("road.test.mjs")},
	{name: "e2e change", needs: page, run: endToEnd("change.test.mjs")},
	{name: "e2e first minute", needs: page, run: endToEnd("first.test.mjs")},
	{name: "e2e locked", needs: page, run: endToEnd("locked.test.mjs")},
	{name: "e2e tablet", needs: page, run: endToEnd("tablet.test.mjs")},
	{name: "e2e look", needs: page, run: endToEnd("look.test.mjs")},
	{name: "e2e cases", needs: page, run: endToEnd("cases.test.mjs")},
	{name: "e2e words", needs: page, run: endToEnd("words.test.mjs")},
	{name: "e2e access", needs: page, run: endToEnd("access.test.mjs")},
	{name: "e2e print", needs: page, run: endToEnd("print.test.mjs")},
}

// page is what an end-to-end test needs.
var page = []string{"install programs", "install node packages", "build the page", "serve the page"}

// weighed is what a table of costs needs.
var weighed = []string{"install programs", "install node packages", "build the page", "weight"}

// slowSteps are the end-to-end tests that take too long for every change:
// pictures at every size, every kind of round by key and by glass, MIDI and
// the player's rate, the sound in three browsers and the lesson in two.
var slowSteps = append(pageSteps(), []step{
	{name: "e2e screens", needs: page, run: endToEnd("screens.test.mjs")},
	{name: "e2e kinds", needs: page, run: endToEnd("kinds.test.mjs")},
	{name: "e2e instruments", needs: page, run: endToEnd("instruments.test.mjs")},
	{name: "e2e engines", needs: page, run: endToEnd("engines.test.mjs")},
	{name: "e2e loop in engines", needs: page, run: endToEnd("loop-engines.test.mjs")},
}...)

// longSteps are what wants a quiet machine and most of an hour: all delays and
// tempi of the sound in every browser, ten minutes without a hole, and what
// twenty minutes of rounds leave in memory.
var longSteps = append(pageSteps(), []step{
	{name: "weight", needs: []string{"build the page"}, run: weight},
	{name: "memory, round after round", needs: weighed, run: cost("memory")},
	{name: "chromium for long", needs: page, run: endToEnd("engines.test.mjs", "AGREMENS_ENGINE=chromium", "AGREMENS_LONG=1", "AGREMENS_SOAK=600")},
	{name: "firefox for long", needs: page, run: endToEnd("engines.test.mjs", "AGREMENS_ENGINE=firefox", "AGREMENS_LONG=1", "AGREMENS_SOAK=600")},
	{name: "webkit for long", needs: page, run: endToEnd("engines.test.mjs", "AGREMENS_ENGINE=webkit", "AGREMENS_LONG=1", "AGREMENS_SOAK=600")},
}...)

// firstSteps write which functions of the program are loaded first.
var firstSteps = append(pageSteps(), step{name: "first visit", needs: []string{"install programs", "install node packages", "build the page"}, run: firstVisit})

// pageSteps are the steps that page names.
func pageSteps() []step {
	var steps []step
	for _, s := range allSteps {
		if slices.Contains(page, s.name) {
			steps = append(steps, s)
		}
	}
	return steps
}

// benchSteps print the benchmark tables.
var benchSteps = []step{
	{name: "install programs", run: install},
	{name: "install tools", run: installTools},
	{name: "install node packages", needs: []string{"install programs"}, run: installNode},
	{name: "build the page", run: buildPage},
	{name: "weight", needs: []string{"build the page"}, run: weight},
	{name: "weight by package", run: weighing},
	{name: "cost of the start", needs: weighed, run: cost("start")},
	{name: "cost of a frame", needs: weighed, run: cost("frames")},
	{name: "cost of an answer", needs: weighed, run: cost("answers")},
	{name: "bench opening", needs: []string{"install programs", "install node packages"}, run: benchOpening},
	{name: "bench", run: bench},
	{name: "bench sound in the browser", needs: []string{"install programs", "install tools"}, run: benchBrowser},
	{name: "drawing in the browser", needs: []string{"install programs", "install tools"}, run: drawing},
	{name: "table of the instruments", run: instruments},
	{name: "performances", run: performances},
}
