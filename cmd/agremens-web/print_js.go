package main

import (
	"strings"

	"agremens/game/diary"
	"agremens/game/handout"
	"agremens/game/lesson"
	"agremens/realize/codec/packet"
	"agremens/web/dom"
)

// print fills the paper with the task at hand and opens the browser's print.
func (t *tasks) print(what string) {
	h := handout.Make(t.host.OnDesk(), dom.Value("task-words"), t.kinds)
	dom.SetText("print-title", h.Title)
	for _, r := range t.whom {
		h.Byline += " · " + r.name
	}
	dom.SetText("print-byline", h.Byline+" · "+diary.When{Day: t.host.Date()}.Short(t.words))
	dom.SetText("print-words", h.Words)
	var sides []string
	for _, side := range h.Sides {
		sides = append(sides, string(side))
	}
	dom.SetDrawing("print-sides", sides...)
	if len(sides) == 0 {
		dom.SetDrawing("print-music", string(h.Music))
	} else {
		dom.SetText("print-music", t.words.Say("The music follows on pages of its own. If you print on both sides of the paper, you turn the page where one hand rests, wherever there is such a place."))
	}
	dom.SetText("print-tempos", t.words.Say("Tempo: {choices}", "{choices}", boxes(h.Tempos)))
	dom.SetDrawing("print-week", string(h.Week))
	kinds := ""
	if len(h.Kinds) > 0 {
		kinds = t.words.Say("Rounds: {choices}", "{choices}", boxes(h.Kinds))
	}
	dom.SetText("print-kinds", kinds)
	dom.SetCards("print-rows", rowCards(h.Rows, false), nil)
	dom.SetCards("answers", rowCards(h.Rows, true), nil)
	dom.SetText("print-sources", strings.Join(h.Sources, "  "))
	dom.SetDrawing("print-square", "")
	set, _, _ := dom.Load(homeKey)
	if home, local := lesson.Home(dom.Address(), set); !local {
		if svg, err := packet.Square(lesson.Link(home, packet.TaskKind, packet.EncodeTask(t.first()))); err == nil {
			dom.SetDrawing("print-square", string(svg))
		}
	}
	dom.Print(what)
}

func rowCards(rows []handout.Row, drawn bool) []dom.Card {
	var cards []dom.Card
	for _, r := range rows {
		c := dom.Card{Title: r.Heading, Lines: []string{r.Notes, strings.TrimSpace(r.Why + " " + r.Numbers)}}
		if drawn { // a card is cut out and must say all
			c.Lines = []string{r.Notes, r.Why, r.Sources}
			c.Drawing = string(r.Played)
		}
		cards = append(cards, c)
	}
	return cards
}

// boxes writes choices with a box to tick before each, on its line.
func boxes(choices []string) string {
	return "☐\u00a0" + strings.Join(choices, "   ☐\u00a0")
}
