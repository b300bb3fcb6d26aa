package main

import (
	"agremens/game/conduct"
	"agremens/game/desk"
	"agremens/game/listening"
	"agremens/game/listening/ear"
	"agremens/game/round"
	"agremens/game/version"
	"agremens/realize"
	"agremens/realize/takedown"
	"agremens/realize/words"
	"agremens/web/dom"
)

// mostTakes is how often one plays it before the first take is dropped.
const mostTakes = 3

// playIt takes down the selected ornament as it is played: heard, on a MIDI
// keyboard, or tapped on letters.
type playIt struct {
	words   *words.Catalogue
	host    changesHost
	rounds  *conduct.Conductor
	shown   func() // after the desk has changed
	place   takedown.Place
	at      string // the ornament the takes are of
	takes   [][]float64
	version takedown.Version
	now     []float64 // the take on keys that is under way
	last    float64   // when something came last, ms
	stop    func()    // ends the looking, nil where nothing is under way
	open    bool      // the microphone is open
	tapping []int     // keys whose rhythm is tapped, nil none
}

func newPlayIt(c *words.Catalogue, h changesHost, r *conduct.Conductor, shown func()) *playIt {
	p := &playIt{words: c, host: h, rounds: r, shown: shown}
	dom.OnClick("play-listen", func() {
		if p.open {
			p.end()
			return
		}
		go p.listen()
	})
	dom.OnClick("play-heard", func() {
		v, _, ok := p.own(version.AsPlayed(p.version))
		if ok {
			p.rounds.HearPlan(func() (*round.Plan, error) { return p.host.OnDesk().PlanAs(v, atTempo, conduct.Rate) })
		}
	})
	dom.OnClick("play-again", p.forget)
	dom.OnPress("own-tap", p.tap)
	dom.OnHidden(func(hidden bool) {
		if hidden {
			p.drop()
		}
	})
	dom.OnSheetClosed("change", p.drop)
	return p
}

// ready finds the place of the selected ornament; takes of another are
// forgotten.
func (p *playIt) ready() bool {
	d := p.host.OnDesk()
	o, ok := d.Ornament()
	if !ok {
		return false
	}
	if p.at != d.ID+" "+o.ID {
		p.forget()
		p.at = d.ID + " " + o.ID
	}
	p.place, ok = version.Place(d.Reading, d.Passage, o.ID)
	return ok
}

func (p *playIt) forget() {
	p.drop()
	p.takes, p.version = nil, takedown.Version{}
	p.say("")
	p.fill()
}

func (p *playIt) say(text string) { dom.SetText("play-words", text) }

func (p *playIt) microphone() dom.Microphone {
	return dom.Microphone{
		Heard:  func([]float64) { p.last = dom.Now() },
		Report: func([]float64) {},
		Take:   p.written,
		Taken: func() {
			p.drop()
			p.say(listening.Taken.Say(p.words))
		},
		Failed: func() {
			p.drop()
			p.say(listening.Unheard.Say(p.words))
		},
	}
}

// listen opens the microphone for one take.
func (p *playIt) listen() {
	if p.stop != nil || !p.ready() {
		return
	}
	p.host.StopRound()
	dom.SetDisabled("play-listen", true)
	_, trouble := dom.OpenMicrophone(p.microphone(), false)
	dom.SetDisabled("play-listen", false)
	if trouble != "" {
		p.say(listening.Trouble(trouble).Say(p.words))
		return
	}
	p.open, p.last = true, 0
	dom.BeginTake(ear.PackPlace(p.place.HandAlone()))
	p.stop = dom.Every(lookMS, p.look)
	p.say(p.words.Say("The microphone is on: play with this hand alone, the notes before and after it too."))
	p.fill()
}

// look ends a take when nothing came for a while.
func (p *playIt) look() {
	if p.last > 0 && dom.Now()-p.last > restMS {
		p.end()
	}
}

// end has what was played written.
func (p *playIt) end() {
	if p.stop == nil {
		return
	}
	place := p.place
	if p.open {
		place = place.HandAlone()
	} else {
		p.add(p.now)
	}
	p.quiet()
	p.say(p.words.Say("Writing it down …"))
	takes := p.takes
	go dom.WriteTakes(ear.PackPlace(place), takes, p.microphone())
}

func (p *playIt) add(take []float64) {
	if p.takes = append(p.takes, take); len(p.takes) > mostTakes {
		p.takes = p.takes[1:]
	}
}

// quiet ends what is under way; the microphone is closed by what follows.
func (p *playIt) quiet() {
	if p.stop != nil {
		p.stop()
	}
	p.stop, p.open, p.now, p.tapping = nil, false, nil, nil
	p.fill()
}

func (p *playIt) drop() {
	if p.stop == nil {
		return
	}
	dom.DropListening()
	p.quiet()
	p.say("")
}

// struck takes a key of a MIDI keyboard while the sheet is open, and reports
// whether it did.
func (p *playIt) struck(s dom.Strike) bool {
	if !dom.IsOpen("change") || !dom.IsOpen("play-it") {
		return false
	}
	if !s.Down || p.open || p.tapping != nil {
		return true
	}
	if p.stop == nil {
		if !p.ready() {
			return true
		}
		p.host.StopRound()
		p.stop = dom.Every(lookMS, p.look)
		p.say(p.words.Say("Playing: it is written down when you pause."))
		p.fill()
	}
	p.now = append(p.now, float64(s.Key), s.At/1000, takedown.Certain)
	p.last = dom.Now()
	return true
}

// landingKey stands for the note that follows in a rhythm that is tapped: no
// keyboard has it.
const landingKey = 127

// tap takes a tap of the rhythm of the letters that are written.
func (p *playIt) tap(at float64) {
	if p.tapping == nil {
		o, ok := p.host.OnDesk().Ornament()
		if p.stop != nil || !ok || !p.ready() {
			return
		}
		pitches, err := desk.ParsePitches(dom.Value("own-notes"), o.Principal)
		if err != nil {
			dom.SetText("change-now", words.Sentence(p.words.Tell(err)))
			return
		}
		p.host.StopRound()
		p.takes = nil
		p.place.Around = []takedown.Printed{{Key: landingKey, At: p.place.Length, Same: true}}
		p.place.About, p.place.Chord = 0, nil
		for _, q := range pitches {
			p.tapping = append(p.tapping, q.MIDI())
			p.place.Lowest, p.place.Highest = min(p.place.Lowest, q.MIDI()), max(p.place.Highest, q.MIDI())
		}
		p.stop = dom.Every(lookMS, p.look)
	}
	p.last = dom.Now()
	n := len(p.now) / 3
	key := landingKey
	if n < len(p.tapping) {
		key = p.tapping[n]
	}
	p.now = append(p.now, float64(key), at/1000, takedown.Certain)
	if key == landingKey {
		p.end()
	}
}

// written shows what was written and keeps it as the user's own.
func (p *playIt) written(strikes, row []float64) {
	if len(strikes) > 0 {
		p.add(strikes)
	}
	v, ok := ear.UnpackVersion(row)
	if !ok {
		p.say(version.Nothing(p.words))
		return
	}
	own, d, ok := p.own(v)
	if !ok {
		return
	}
	p.version = v
	p.say(version.Words(v, len(p.takes), p.words))
	if err := d.SetOwn(own); err != nil {
		p.say(words.Sentence(p.words.Tell(err)))
	}
	p.shown()
	p.fill()
}

// own is a version as a realization for the selected ornament.
func (p *playIt) own(v takedown.Version) (own realize.Own, d *desk.Desk, ok bool) {
	d = p.host.OnDesk()
	o, ok := d.Ornament()
	if !ok || p.at != d.ID+" "+o.ID {
		return own, d, false
	}
	own, ok = version.Own(d.Reading, d.Passage, o.ID, v)
	return own, d, ok
}

// fill shows what was heard; what is written of it stands above, and on the
// staff.
func (p *playIt) fill() {
	have := len(p.version.Notes) > 0
	dom.SetHidden("play-heard", !have)
	dom.SetHidden("play-again", len(p.takes) == 0)
	dom.SetHidden("play-pictures", !have)
	dom.SetHidden("play-how", have)
	if have {
		dom.SetDrawing("play-picture", version.Picture(p.version, p.place.Length))
	}
	text := p.words.Say("Listen to me")
	if p.open {
		text = p.words.Say("That was it")
	}
	dom.SetText("play-listen", text)
}
