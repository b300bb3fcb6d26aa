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

// bindKinds connects the choice of a kind and what its steps ask.
func (a *app) bindKinds() {
	a.offerKinds(nil)
	names, _, _ := dom.Load(playersKey)
	dom.SetValue("round-players", names)
	a.rounds.Players = practice.ParseNames(names)
	dom.OnInput("round-players", func() { a.rounds.Players = practice.ParseNames(dom.Value("round-players")) })
	dom.OnChange("round-players", func() { _ = dom.Store(playersKey, dom.Value("round-players")) })
	dom.OnChange("kind", func() {
		a.rounds.Stop()
		a.rounds.Choose(dom.Value("kind"))
		a.show()
	})
	dom.OnClick("round-ready", a.rounds.GoOn)
	dom.OnClick("next-step", a.rounds.TakeNext)
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
	a.rounds.Kind = key
}

// Chosen keeps the kind of round that was chosen.
func (a *app) Chosen(key string) { _ = dom.Store(kindKey, key) }

// showKind shows the kind, and the question of the step under way.
func (a *app) showKind() {
	kind, _ := practice.Find(a.rounds.Kind)
	dom.SetValue("kind", kind.Key)
	dom.SetText("tap", map[bool]string{true: a.words.Say("Tap"), false: a.words.Say("Start")}[kind.Taps()])
	dom.SetHidden("round", kind.Key == practice.Tap)
	dom.SetText("round-purpose", a.words.Say(kind.Purpose))
	dom.SetHidden("round-caution", !kind.Long)
	dom.SetHidden("round-names", !kind.Names)
	dom.SetText("round-said", a.rounds.Said)
	dom.SetData("words", "covered", yes(a.rounds.Covered()))
	dom.SetHidden("next-round", a.rounds.Next.Kind == "")
	dom.SetText("next-step", a.words.Say("Next: {step}", "{step}", a.rounds.Next.Label))
	line, ready := "", ""
	var answers []dom.Button
	if s := a.rounds.Session; s != nil {
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
	votes := a.rounds.Session.Votes()
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
	if i, err := strconv.Atoi(key); err == nil {
		a.rounds.Answer(i)
	}
}

func yes(on bool) string {
	if on {
		return "yes"
	}
	return ""
}
