package main

import (
	"math"
	"strconv"
	"strings"

	"agremens/game/closeup"
	"agremens/game/conduct"
	"agremens/game/day"
	"agremens/game/desk"
	"agremens/game/lesson"
	"agremens/game/practice"
	"agremens/game/round"
	"agremens/game/studio"
	"agremens/realize/words"
	"agremens/web/dom"
)

// studentHost is what the student's page asks of the program.
type studentHost interface {
	OnDesk() *desk.Desk
	Task() *lesson.Homework
	Pace(steps float64)
	Start(kind string)
	OpenPackets(string) bool
	BackToTask()
	Left() bool
}

// student is the student's page of a task: the teacher's words, the path, the
// week, and one button that is always what comes next.
type student struct {
	words  *words.Catalogue
	host   studentHost
	rounds *conduct.Conductor
	today  *studio.Today
	week   *weekPicture
	judged *conduct.Judged // what the close-up shows
	figure closeup.Figure
	sign   bool // the words about the sign are shown
}

func newStudent(c *words.Catalogue, h studentHost, r *conduct.Conductor, t *studio.Today, w *weekPicture, done func()) *student {
	s := &student{words: c, host: h, rounds: r, today: t, week: w}
	dom.OnClick("slower", func() { h.Pace(-1) })
	dom.OnClick("faster", func() { h.Pace(1) })
	dom.OnClick("to-piano", func() { dom.CloseMenus(); h.Start(practice.Piano) })
	for _, id := range []string{"done", "finish"} {
		dom.OnClick(id, func() { dom.CloseMenus(); done() })
	}
	for _, id := range []string{"to-task", "to-task-again"} {
		dom.OnClick(id, func() { dom.CloseMenus(); h.BackToTask() })
	}
	dom.OnClick("go", func() { next, _ := t.Deeds(); t.Do(next) })
	dom.OnClick("go-beside", func() { _, beside := t.Deeds(); t.Do(beside) })
	dom.OnClick("mine", func() { r.HearMine(s.figure.Ornament) })
	dom.OnClick("student-sign", func() { s.showSign(!s.sign) })
	dom.SetHidden("mine", true)
	dom.OnFragment(func(fragment string) { h.OpenPackets(fragment) })
	return s
}

// enter lays the page out for a task, leave for the desk: the choice of an
// exercise stands behind the three dots there.
func (s *student) enter(on bool) {
	into := ""
	if on {
		into = "student-round"
	}
	for _, id := range []string{"kind-field", "tap"} {
		dom.Move(id, into)
	}
	dom.SetOpen("figures", !on)
	s.showSign(false)
}

// showSign shows the words about the sign, with what may be chosen, or hides them.
func (s *student) showSign(on bool) {
	s.sign = on
	dom.SetAttr("student-sign", "aria-pressed", strconv.FormatBool(on))
	dom.SetPageData("sign", yes(on))
}

func (s *student) show() {
	s.showResult()
	dom.SetPageData("busy", yes(s.rounds.Busy()))
	dom.SetHidden("to-task-again", !s.host.Left())
	h := s.host.Task()
	if h == nil {
		return
	}
	d := s.host.OnDesk()
	dom.SetText("student-words", h.Task.Words)
	dom.SetText("composer-text", s.words.Say("bars {bars}, goal {beats} = {n}, {hand}",
		"{bars}", strings.ReplaceAll(d.Bars(), "-", "–"), "{n}", strconv.Itoa(int(math.Round(d.Goal()))),
		"{beats}", d.BeatWord(), "{hand}", handInWords(d.Tap, s.words)))
	dom.SetDisabled("slower", d.Percent <= 20)
	dom.SetDisabled("faster", d.Percent >= 200)
	s.showPath()
	s.showDeeds()
	if !s.rounds.Busy() {
		s.week.show("week", d.Goal())
	}
}

// showPath shows the steps, and what is to be done now.
func (s *student) showPath() {
	said := map[day.Mark]string{day.Behind: s.words.Say("(done)")}
	var stones []dom.Stone
	for _, stone := range s.today.Stones(s.words) {
		stones = append(stones, dom.Stone{Label: stone.Name, Mark: string(stone.Mark), Said: said[stone.Mark]})
	}
	dom.SetPath("path", stones)
	ask := ""
	if s.today.On && !s.today.Over() {
		ask = s.words.Say(s.today.Current().Ask)
	}
	dom.SetText("path-ask", ask)
}

// showDeeds shows the one button that is always what comes next, and what
// stands beside it.
func (s *student) showDeeds() {
	next, beside := s.today.Deeds()
	dom.SetText("go", s.today.Label(next))
	dom.SetText("go-beside", s.today.Label(beside))
	dom.SetHidden("go-beside", beside == studio.NoDeed)
	listens := ""
	if next == studio.Go && s.today.On && !s.today.Tried && s.today.Current().Key == day.Listen {
		listens = "listen"
	}
	dom.SetPageData("go", listens)
	dom.SetPageData("told", yes(len(s.rounds.Result.First()) > 0))
}

// showResult shows the ornament that the sentence speaks of, large.
func (s *student) showResult() {
	if s.judged == s.rounds.Judged {
		return
	}
	s.judged = s.rounds.Judged
	var drawn []string
	text := ""
	s.figure = closeup.Figure{}
	if j := s.judged; j != nil {
		for _, f := range s.figures(j) {
			s.figure = f
			drawn = append(drawn, f.SVG(s.words))
			text += f.Text(s.words) + " "
		}
	}
	dom.SetData("close-up", "apart", yes(s.judged != nil && s.judged.Apart))
	dom.SetDrawing("close-up", drawn...)
	dom.SetAttr("close-up", "aria-label", text)
	dom.SetHidden("mine", s.judged == nil)
}

// figures are the ornament that is shown large, beside an earlier day's
// or the teacher's taps;
// for two players one each.
func (s *student) figures(j *conduct.Judged) (all []closeup.Figure) {
	wants, taps, _ := j.Round.Judged()
	if j.Apart {
		both, ok := closeup.Hands(j.Result, wants, taps)
		for hand, f := range both {
			if ok[hand] {
				f.Who = handInWords([2]round.Hands{round.RightHand, round.LeftHand}[hand], s.words)
				all = append(all, f)
			}
		}
		return all
	}
	f, ok := closeup.Of(j.Result, wants, taps)
	if !ok {
		return nil
	}
	f.Before = s.today.Against(f, closeup.Each(j.Result, wants), 60_000/j.Round.Plan().BeatMS)
	return []closeup.Figure{f}
}

func handInWords(h round.Hands, c *words.Catalogue) string {
	return map[string]string{"right": c.Say("right hand"), "left": c.Say("left hand"), "both": c.Say("both hands")}[desk.HandWord(h)]
}
