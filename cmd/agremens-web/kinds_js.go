package main

import (
	"strconv"

	"agremens/game/conduct"
	"agremens/game/engrave"
	"agremens/game/practice"
	"agremens/game/stairs"
	"agremens/realize/words"
	"agremens/web/dom"
)

// playersKey names in the browser's storage who plays in turns.
const playersKey = "agremens.players"

// kinds is the choice of a kind of round, and what its steps ask.
type kinds struct {
	words  *words.Catalogue
	rounds *conduct.Conductor
}

func newKinds(c *words.Catalogue, r *conduct.Conductor) *kinds {
	k := &kinds{c, r}
	names, _, _ := dom.Load(playersKey)
	dom.SetValue("round-players", names)
	r.Players = practice.ParseNames(names)
	dom.OnInput("round-players", func() { r.Players = practice.ParseNames(dom.Value("round-players")) })
	dom.OnChange("round-players", func() { _ = dom.Store(playersKey, dom.Value("round-players")) })
	dom.OnChange("kind", func() {
		r.Stop()
		r.Choose(dom.Value("kind"))
		k.show()
	})
	dom.OnClick("round-ready", r.GoOn)
	dom.OnClick("next-step", r.TakeNext)
	return k
}

// offer fills the menu.
func (k *kinds) offer(all []practice.Kind, task bool) {
	var options []dom.Option
	for _, kind := range all {
		if kind.Key == practice.Tap && task {
			kind.Name = k.words.Say("As your teacher set it")
		}
		options = append(options, dom.Option{Key: kind.Key, Label: k.words.Say(kind.Name), Group: k.words.Say(kind.Group)})
	}
	dom.SetOptions("kind", options, k.rounds.Kind)
}

// show shows the kind, and the question of the step under way.
func (k *kinds) show() {
	r := k.rounds
	kind, _ := practice.Find(r.Kind)
	dom.SetValue("kind", kind.Key)
	dom.SetText("tap", map[bool]string{true: k.words.Say("Tap"), false: k.words.Say("Start")}[kind.Taps()])
	dom.SetHidden("round", kind.Key == practice.Tap)
	dom.SetText("round-purpose", k.words.Say(kind.Purpose))
	dom.SetHidden("round-caution", !kind.Long)
	dom.SetHidden("round-names", !kind.Names)
	dom.SetText("round-said", r.Said)
	dom.SetData("words", "covered", yes(r.Covered()))
	dom.SetHidden("next-round", r.Next.Kind == "")
	dom.SetText("next-step", k.words.Say("Next: {step}", "{step}", r.Next.Label))
	dom.SetHidden("climb", r.Rungs == nil)
	if r.Rungs != nil {
		goal := r.Desk.Goal()
		dom.SetDrawing("climb-picture", stairs.SVG(r.Rungs, goal))
		dom.SetAttr("climb-picture", "aria-label", stairs.Text(r.Rungs, goal, k.words))
	}
	k.showStep()
}

func (k *kinds) showStep() {
	line, ready, turn := "", "", false
	var answers []dom.Button
	if s := k.rounds.Session; s != nil {
		step, ok := s.Step()
		turn = ok && step.Player != ""
		if ok && !step.Act.Sounds() {
			line = step.Line
			answers = k.answers(step)
			ready = map[practice.Act]string{practice.Wait: k.words.Say("Ready"), practice.Count: k.words.Say("Done"), practice.Compare: k.words.Say("Go on")}[step.Act]
		}
		at, of := s.Place()
		dom.SetData("round", "step", strconv.Itoa(at))
		dom.SetData("round", "steps", strconv.Itoa(of))
	} else {
		dom.SetData("round", "step", "")
	}
	dom.SetText("round-line", line)
	dom.SetData("round", "turn", yes(turn))
	dom.SetHidden("round-ready", ready == "")
	dom.SetText("round-ready", ready)
	dom.SetButtons("round-answers", answers, func(key string) {
		if i, err := strconv.Atoi(key); err == nil {
			k.rounds.Answer(i)
		}
	})
}

func (k *kinds) answers(step *practice.Step) []dom.Button {
	votes := k.rounds.Session.Votes()
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
