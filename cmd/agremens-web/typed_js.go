package main

import (
	"errors"

	"agremens/game/desk"
	"agremens/game/keep"
	"agremens/game/shelf"
	"agremens/game/studio"
	"agremens/realize"
	"agremens/realize/codec"
	"agremens/realize/codec/abc"
	"agremens/realize/words"
	"agremens/web/dom"
)

// typedFirst is what is in the field the first time.
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

// typedHost is what the sheet of a typed passage asks of the program.
type typedHost interface {
	OnDesk() *desk.Desk
	Own(shelf.Kind) (shelf.Item, []byte, bool)
	LayTyped(text string) error
	Listen()
	Unkept()
}

// typed is the sheet in which a passage is typed.
type typed struct {
	words *words.Catalogue
	host  typedHost
	// from and to are the place of a mistake, in UTF-16 units of the text.
	from, to int
	asked    int // counts changes, so that a quick writer is drawn once
}

func newTyped(c *words.Catalogue, h typedHost) {
	t := &typed{words: c, host: h}
	dom.OnClick("bring-typed", t.open)
	dom.OnInput("typed-text", t.changed)
	dom.OnClick("typed-show", func() { dom.SelectText("typed-text", t.from, t.to) })
	dom.OnClick("typed-lay", func() { t.lay() })
	dom.OnClick("typed-listen", func() {
		if t.lay() {
			h.Listen()
		}
	})
}

// changed keeps the text at once, and draws it when the fingers rest.
func (t *typed) changed() {
	if dom.Store(keep.TypedKey, dom.Value("typed-text")) != nil {
		t.host.Unkept()
	}
	t.asked++
	now := t.asked
	dom.After(150, func() {
		if now == t.asked {
			go t.show()
		}
	})
}

// open opens the sheet with the typed passage on the desk, as it stands there
// now, else with what was typed last.
func (t *typed) open() {
	text, ok, _ := dom.Load(keep.TypedKey)
	if !ok {
		text = words.Fill(typedFirst, "{title}", t.words.Say("My passage"))
	}
	if _, data, ok := t.host.Own(shelf.Typed); ok {
		if t.host.OnDesk().Changed() {
			text = abc.Encode(t.host.OnDesk().Passage)
		} else if data != nil {
			text = string(data)
		}
	}
	dom.SetValue("typed-text", text)
	t.show()
	dom.CloseSheet("bring")
	dom.OpenSheet("typed-sheet")
	dom.Focus("typed-text")
}

// show draws what is typed, and marks where it cannot be read.
func (t *typed) show() {
	text := dom.Value("typed-text")
	p, warnings, err := studio.ReadTyped(text)
	dom.SetDisabled("typed-lay", err != nil)
	dom.SetDisabled("typed-listen", err != nil)
	var line, column int
	var said string
	var bad *abc.Error
	switch {
	case errors.As(err, &bad):
		line, column, said = bad.Line, bad.Column, codec.WordsIn(t.words, err)
	case err != nil:
		said = words.Sentence(t.words.Tell(err))
	default:
		n := len(p.Measures)
		dom.SetPicture("typed-staff", staffPicture(p, realize.Read(p, realize.Taste{Words: t.words}), max(0, n-shownBars), n))
		if len(warnings) > 0 {
			w := warnings[0]
			line, column, said = w.Line, w.Column, words.Sentence(w.In(t.words))
			if len(warnings) > 1 {
				said += " " + t.words.Count(len(warnings)-1, "(And {n} more.)", "(And {n} more.)")
			}
		}
	}
	dom.SetText("typed-said", said)
	dom.SetHidden("typed-line", line == 0)
	dom.SetHidden("typed-show", line == 0)
	if line > 0 {
		place := desk.FindPlace(text, line, column)
		t.from, t.to = place.From, place.To
		dom.SetMarked("typed-line", place.Before, orElse(place.Marked, " "), place.After)
	}
}

// lay puts the typed passage on the desk and reports whether it could be read.
func (t *typed) lay() bool {
	text := dom.Value("typed-text")
	if _, _, err := studio.ReadTyped(text); err != nil {
		t.show()
		return false
	}
	dom.CloseSheet("typed-sheet")
	return t.host.LayTyped(text) == nil
}
