package desk

import (
	"strconv"
	"strings"

	"agremens/game/round"
)

var handWords = map[string]round.Hands{
	"right": round.RightHand, "left": round.LeftHand, "both": round.BothHands, "none": round.NoHand,
}

// HandWord returns the word for hands in addresses and menus.
func HandWord(h round.Hands) string {
	for word, hands := range handWords {
		if hands == h {
			return word
		}
	}
	return ""
}

// ParseHand reads a hand word.
func ParseHand(word string) (round.Hands, bool) {
	h, ok := handWords[word]
	return h, ok
}

// Fields are the settings that [Desk.Apply] takes from an address.
func Fields() []string {
	return []string{"bars", "tempo", "hand", "play", "instrument", "ornaments", "tuning", "pitch", "beat", "countin", "repeat", "follow", "tradition"}
}

// Apply takes settings from an address by their names, which are those of
// [Fields]. It returns what it did not understand, in words; such a setting
// stays as it was.
func (d *Desk) Apply(query map[string]string, instruments []string) []string {
	// What the address asks for is where one begins, not a step to undo.
	d.past.going = true
	defer d.settle()
	var said []string
	c := d.Words
	complain := func(name, value, allowed string) {
		said = append(said, c.Say("“{value}” is not a value for {name} ({allowed}); it was left unchanged.", "{value}", value, "{name}", name, "{allowed}", allowed))
	}
	if v, ok := query["tradition"]; ok {
		if known(v) {
			d.SetTradition(v)
		} else {
			complain("tradition", v, c.Say("see the menu"))
		}
	}
	if v, ok := query["bars"]; ok {
		if err := d.SetBars(v); err != nil {
			complain("bars", v, c.Say("this passage has {bars}", "{bars}", AllBars(d.Passage)))
		}
	}
	if v, ok := query["tempo"]; ok {
		beats, err := strconv.ParseFloat(v, 64)
		switch {
		case err != nil || !(beats > 0):
			complain("tempo", v, c.Say("beats per minute"))
		case !d.SetBeats(beats):
			said = append(said, c.Say("Tempo {tempo} lies outside {from} to {to} per cent of this passage's; {near} is as near as it goes.", "{tempo}", v,
				"{from}", strconv.Itoa(round.SlowestPercent), "{to}", strconv.Itoa(round.FastestPercent), "{near}", c.Number(d.Beats(), 0)))
		}
	}
	if v, ok := query["hand"]; ok {
		if h, ok := ParseHand(v); ok && h != round.NoHand {
			d.Tap = h
		} else {
			complain("hand", v, "right, left, both")
		}
	}
	if v, ok := query["play"]; ok {
		if h, ok := ParseHand(v); ok {
			d.Hear, d.HearSet = h, true
		} else {
			complain("play", v, "both, right, left, none")
		}
	}
	if v, ok := query["instrument"]; ok {
		if contains(instruments, v) {
			d.SetInstrument(v)
		} else {
			complain("instrument", v, strings.Join(instruments, ", "))
		}
	}
	if v, ok := query["ornaments"]; ok {
		if v == "performed" || v == "even" {
			d.Even = v == "even"
		} else {
			complain("ornaments", v, "performed, even")
		}
	}
	d.applyTuning(query, complain)
	d.applySwitch(query, "beat", &d.Beat, complain)
	d.applySwitch(query, "repeat", &d.Repeat, complain)
	if v, ok := query["follow"]; ok {
		if o, ok := ParseFollow(v); ok {
			d.Follow = o
		} else {
			complain("follow", v, "once, repeats, jumps, all")
		}
	}
	if v, ok := query["countin"]; ok {
		if n, err := strconv.Atoi(v); err == nil && n >= 0 && n <= 2 {
			d.CountIn = n
		} else {
			complain("countin", v, "0, 1, 2")
		}
	}
	return said
}

func (d *Desk) applySwitch(query map[string]string, name string, to *bool, complain func(name, value, allowed string)) {
	switch v, ok := query[name]; {
	case !ok:
	case v == "on" || v == "off":
		*to = v == "on"
	default:
		complain(name, v, "on, off")
	}
}

func contains(words []string, word string) bool {
	for _, w := range words {
		if w == word {
			return true
		}
	}
	return false
}
