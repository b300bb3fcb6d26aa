package main

import (
	"agremens/game/lesson"
	"agremens/game/studio"
	"agremens/game/week"
	"agremens/realize/words"
	"agremens/web/dom"
)

// weekPicture shows the week of who taps on the task that is open.
type weekPicture struct {
	words *words.Catalogue
	log   *studio.Log
	task  func() *lesson.Homework
}

// of is the week up to today; goal is in felt beats a minute.
func (p *weekPicture) of(goal float64) week.Week {
	passage := ""
	if h := p.task(); h != nil {
		passage = lesson.DeskID(h.Task)
	}
	w := week.Of(p.log.Diary, p.log.Player, passage, p.log.Now().Day, goal)
	w.Open = true
	return w
}

// show shows it in the figure with an id.
func (p *weekPicture) show(id string, goal float64) { showWeek(id, p.of(goal), p.words) }

// showWeek shows a week in the figure with an id, and its one sentence; a week
// without practice is not shown.
func showWeek(id string, w week.Week, c *words.Catalogue) {
	dom.SetHidden(id, w.Empty())
	dom.SetDrawing(id+"-picture", w.SVG(c, week.Large))
	dom.SetAttr(id+"-picture", "aria-label", w.Text(c))
	dom.SetText(id+"-words", w.Compare(c))
}
