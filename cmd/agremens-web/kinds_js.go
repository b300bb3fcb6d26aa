package main

import (
	"strconv"

	"agremens/game/engrave"
	"agremens/game/practice"
	"agremens/web/dom"
)

// Names in the browser's storage.
const (
	kindKey    = "agremens.kind"
	playersKey = "agremens.players"
)

// kinds is the kind of round that is chosen, and the session of it under way.
type kinds struct {
	key     string
	session *practice.Session
	next    practice.Next
	row     int     // clean rounds in a row on these bars
	rowOf   string  // the passage and bars they were on
	before  float64 // per cent of tempo before a slower step; 0 none was taken
	said    string  // what a question revealed
}

// bindKinds connects the choice of a kind and what its steps ask.
func (a *app) bindKinds() {
	a.offerKinds(nil)
	names, _, _ := dom.Load(playersKey)
	dom.SetValue("round-players", names)
	dom.OnChange("round-players", func() { _ = dom.Store(playersKey, dom.Value("round-players")) })
	dom.OnChange("kind", func() {
		a.stop()
		a.setKind(dom.Value("kind"))
		a.show()
	})
	dom.OnClick("round-ready", func() {
		if s := a.kinds.session; s != nil {
			s.Ready()
			a.nextStep()
		}
	})
	dom.OnClick("next-step", a.takeNext)
}

// takeKind takes the kind that the address names, else the one used last; an
// address that asks for a round without naming a kind means the plain one.
func (a *app) takeKind(query map[string]string) {
	key, asked := query["kind"]
	if !asked && len(query) == 0 {
		key, _, _ = dom.Load(kindKey)
	}
	if _, known := practice.Find(key); !known {
		if asked {
			a.say(a.words.Say("There is no exercise “{name}”; the basic round was chosen.", "{name}", key))
		}
		key = practice.Tap
	}
	a.kinds.key = key
}

func (a *app) setKind(key string) {
	if _, ok := practice.Find(key); ok {
		a.kinds.key, a.kinds.next, a.kinds.said = key, practice.Next{}, ""
		_ = dom.Store(kindKey, key)
	}
}

// showKind shows the kind, and the question of the step under way.
func (a *app) showKind() {
	kind, _ := practice.Find(a.kinds.key)
	dom.SetValue("kind", kind.Key)
	dom.SetText("tap", map[bool]string{true: a.words.Say("Tap"), false: a.words.Say("Start")}[kind.Taps()])
	dom.SetHidden("round", kind.Key == practice.Tap)
	dom.SetText("round-purpose", a.words.Say(kind.Purpose))
	dom.SetHidden("round-caution", !kind.Long)
	dom.SetHidden("round-names", !kind.Names)
	dom.SetText("round-said", a.kinds.said)
	dom.SetData("words", "covered", yes(a.covered()))
	dom.SetHidden("next-round", a.kinds.next.Kind == "")
	dom.SetText("next-step", a.words.Say("Next: {step}", "{step}", a.kinds.next.Label))
	line, ready := "", ""
	var answers []dom.Button
	if s := a.kinds.session; s != nil {
		step, ok := s.Step()
		if ok && !step.Act.Sounds() {
			line = step.Line
			answers = a.answers(step)
			ready = map[practice.Act]string{practice.Wait: a.words.Say("Ready"), practice.Count: a.words.Say("Done")}[step.Act]
		}
		at, of := s.Place()
		dom.SetData("round", "step", strconv.Itoa(at))
		dom.SetData("round", "steps", strconv.Itoa(of))
	} else {
		dom.SetData("round", "step", "")
	}
	dom.SetText("round-line", line)
	dom.SetHidden("round-ready", ready == "")
	dom.SetText("round-ready", ready)
	dom.SetButtons("round-answers", answers, a.answerRound)
}

func (a *app) answers(step *practice.Step) []dom.Button {
	votes := a.kinds.session.Votes()
	var buttons []dom.Button
	for i, o := range step.Options {
		b := dom.Button{Key: strconv.Itoa(i), Label: o.Label, Detail: o.Detail, Picture: shown(o.Show)}
		if i < len(votes) {
			b.Detail = strconv.Itoa(votes[i])
		}
		buttons = append(buttons, b)
	}
	return buttons
}

func shown(s *practice.Show) *dom.Picture {
	switch {
	case s == nil:
		return nil
	case s.Printed:
		return picture(engrave.Printed(s.Reading.Passage, s.Reading, s.Ornament))
	}
	return picture(engrave.Preview(s.Reading.Passage, s.Reading, s.Ornament, s.Choice))
}

// answerRound answers the question of a step.
func (a *app) answerRound(key string) {
	s := a.kinds.session
	i, err := strconv.Atoi(key)
	if s == nil || err != nil {
		return
	}
	step, ok := s.Step()
	if !ok {
		return
	}
	act, reveal := step.Act, step.Reveal
	if step.Right == i {
		reveal = a.words.Say("Yes. {why}", "{why}", reveal)
	}
	s.Answer(i)
	if act == practice.Count {
		a.show()
		return
	}
	a.kinds.said = reveal
	a.nextStep()
}

func yes(on bool) string {
	if on {
		return "yes"
	}
	return ""
}
