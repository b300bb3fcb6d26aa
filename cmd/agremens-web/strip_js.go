package main

import (
	"agremens/game/conduct"
	"agremens/game/diary"
	"agremens/game/round"
	"agremens/game/studio"
	"agremens/realize/words"
	"agremens/web/dom"
)

// strip stands above the staff: who taps, where a round went, the day.
type strip struct {
	words  *words.Catalogue
	log    *studio.Log
	rounds *conduct.Conductor
}

func newStrip(c *words.Catalogue, l *studio.Log, r *conduct.Conductor, openLog func()) *strip {
	s := &strip{c, l, r}
	dom.OnClick("not-me", l.Disown)
	dom.OnClick("name-it", func() { openLog(); dom.Focus("new-player") })
	return s
}

// showWho asks who is tapping where several could be. Nothing waits for the
// answer.
func (s *strip) showWho() {
	ask := s.log.Diary.Ask() && !s.log.Named
	dom.SetHidden("who-strip", !ask)
	if ask {
		var names []dom.Button
		for _, p := range s.log.Diary.Players {
			names = append(names, dom.Button{Key: p.Name, Label: p.Name, Pressed: p.Name == s.log.Player})
		}
		names = append(names, dom.Button{Key: "", Label: s.words.Say("Somebody else")})
		dom.SetButtons("who-names", names, s.log.Name)
	}
	s.show()
}

// showKept says beside a result where it went, and takes it back.
func (s *strip) showKept() {
	latest := s.log.Diary.Latest(s.log.Fresh)
	show := s.rounds.State == round.Result && len(latest) > 0
	dom.SetHidden("kept-strip", !show)
	if show {
		text, button := diary.Where(latest, s.words)
		dom.SetText("kept-text", text)
		dom.SetText("not-me", button)
		dom.SetHidden("name-it", latest[0].Player != "" || latest[0].Void)
	}
	s.show()
}

// show shows the strip while any line of it is shown.
func (s *strip) show() {
	dom.SetHidden("strip", dom.Hidden("who-strip") && dom.Hidden("day-strip") && dom.Hidden("kept-strip"))
}
