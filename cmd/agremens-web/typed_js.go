package main

import (
	"errors"

	"agremens/game/desk"
	"agremens/game/shelf"
	"agremens/realize"
	"agremens/realize/codec"
	"agremens/realize/codec/abc"
	"agremens/realize/score"
	"agremens/realize/words"
	"agremens/web/dom"
)

// typedFirst is what stands in the field the first time.
const typedFirst = `T:{title}
M:3/4
L:1/4
Q:1/4=80
%%score {R L}
K:G
V:R
d B Tc | B3 |]
V:L clef=bass
G,2 D, | G,3 |]
`

// shownBars is how many measures of a typed passage are drawn, the last ones.
const shownBars = 12

// typed is the sheet of typed passages.
type typed struct {
	// from and to are the place of a mistake, in UTF-16 units of the text.
	from, to int
	asked    int // counts changes, so that a quick writer is drawn once
}

// bindTyped connects the sheet in which a passage is typed.
func (a *app) bindTyped() {
	dom.OnClick("bring-typed", a.openTyped)
	dom.OnInput("typed-text", func() {
		// Kept at once, drawn when the fingers rest.
		if dom.Store(typedKey, dom.Value("typed-text")) != nil {
			a.unkept()
		}
		a.typed.asked++
		now := a.typed.asked
		dom.After(150, func() {
			if now == a.typed.asked {
				go a.showTyped()
			}
		})
	})
	dom.OnClick("typed-show", func() { dom.SelectText("typed-text", a.typed.from, a.typed.to) })
	dom.OnClick("typed-lay", func() { a.layTyped() })
	dom.OnClick("typed-listen", func() {
		if a.layTyped() {
			a.rounds.Listen()
		}
	})
}

// openTyped opens the sheet with the typed passage on the desk, as it stands
// there now, else with what was typed last.
func (a *app) openTyped() {
	text, ok, _ := dom.Load(typedKey)
	if !ok {
		text = words.Fill(typedFirst, "{title}", a.words.Say("My passage"))
	}
	if it, ok := a.shelf.Find(a.desk.ID); ok && it.Kind == shelf.Typed {
		if a.desk.Changed() {
			text = abc.Encode(a.desk.Passage)
		} else if data, ok := kept(it); ok {
			text = string(data)
		}
	}
	dom.SetValue("typed-text", text)
	a.showTyped()
	dom.OpenSheet("typed-sheet")
	dom.Focus("typed-text")
}

// readTyped reads the text; a score without a bar is none.
//
//words:texts What Mend
func readTyped(text string) (*score.Passage, []abc.Warning, error) {
	p, warnings, err := abc.Decode(text)
	if err == nil && len(p.Measures) == 0 {
		err = &abc.Error{Line: 1, Column: 1, What: "there are no notes yet", Mend: "type some after the line K:, as in K:C and below it C D E F|"}
	}
	return p, warnings, err
}

func (a *app) inLines(warnings []abc.Warning) []string {
	var lines []string
	for _, w := range warnings {
		lines = append(lines, w.In(a.words))
	}
	return lines
}

// showTyped draws what is typed, and marks where it cannot be read.
func (a *app) showTyped() {
	text := dom.Value("typed-text")
	p, warnings, err := readTyped(text)
	dom.SetDisabled("typed-lay", err != nil)
	dom.SetDisabled("typed-listen", err != nil)
	var line, column int
	var said string
	var bad *abc.Error
	switch {
	case errors.As(err, &bad):
		line, column, said = bad.Line, bad.Column, codec.WordsIn(a.words, err)
	case err != nil:
		said = sentence(a.words.Tell(err))
	default:
		n := len(p.Measures)
		dom.SetPicture("typed-staff", staffPicture(p, realize.Read(p, realize.Taste{Words: a.words}), max(0, n-shownBars), n))
		if len(warnings) > 0 {
			w := warnings[0]
			line, column, said = w.Line, w.Column, sentence(w.In(a.words))
			if len(warnings) > 1 {
				said += " " + a.words.Count(len(warnings)-1, "(And {n} more.)", "(And {n} more.)")
			}
		}
	}
	dom.SetText("typed-said", said)
	dom.SetHidden("typed-line", line == 0)
	dom.SetHidden("typed-show", line == 0)
	if line > 0 {
		place := desk.FindPlace(text, line, column)
		a.typed.from, a.typed.to = place.From, place.To
		dom.SetMarked("typed-line", place.Before, orElse(place.Marked, " "), place.After)
	}
}

// layTyped puts the typed passage on the desk and reports whether it could
// be read.
func (a *app) layTyped() bool {
	text := dom.Value("typed-text")
	p, warnings, err := readTyped(text)
	if err != nil {
		a.showTyped()
		return false
	}
	if p.Title == "" {
		p.Title = a.words.Say("Typed passage")
	}
	dom.CloseSheet("typed-sheet")
	a.hush()
	item := shelf.Item{Kind: shelf.Typed, Name: p.Title}
	if it, ok := a.shelf.Find(a.desk.ID); ok && it.Kind == shelf.Typed {
		item.ID = it.ID
	}
	a.layAnew(a.keepPassage(item, []byte(text)), p, a.inLines(warnings))
	a.rounds.Ready()
	a.status(a.words.Say("{name} is open.", "{name}", p.Title))
	return true
}
