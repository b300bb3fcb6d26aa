package diary

import "agremens/game/round"

// From makes an entry of a finished round's record. with says what was tapped
// on, plain that the ornaments were left out.
func From(c round.Record, at When, with string, plain bool) Round {
	r := Round{
		When: at, Player: c.Player, Passage: c.Passage, Title: c.Title, Bars: c.Bars, Kind: c.Kind, With: with,
		Hand: handWords[c.Hands], Beats: c.Tempo, Goal: c.Goal, Seconds: int(c.Seconds + 0.5),
		Wanted: c.Wanted, Hit: c.Hit, Missed: c.Missed, Extra: c.Extra, MeanMS: c.MeanMS, SpreadMS: c.SpreadMS,
		Starts: c.Starts, Uneven: c.Uneven, Clean: c.Clean, Certain: c.Certain, Unaided: c.Help.Unaided(), Plain: plain, Void: c.Dropped,
	}
	for i, code := range c.Findings { // the first that is a fault
		if faultWords[code] != "" {
			r.Fault = code
			if i < len(c.Where) {
				r.Where = c.Where[i]
			}
			break
		}
	}
	return r.tidy()
}

var handWords = map[round.Hands]string{round.RightHand: "right", round.LeftHand: "left", round.BothHands: "both"}

// Fault puts a fault's code into a few words of English, "" for what is none.
func Fault(code string) string { return faultWords[code] }

// The codes are those of package tap.
//
//words:texts
var faultWords = map[string]string{
	"reacting": "every beat is late: waiting to hear it", "drift": "the tempo changes along the way", "unsteady": "plain notes vary around the beat",
	"before-beat": "the ornament is played before the beat", "turn-two-quick": "the turn is two quick notes and one slow one",
	"turn-early": "the turn is too early", "no-ending": "the termination is left out", "fewer-notes": "fewer notes than planned",
	"more-notes": "more notes than planned", "hand-waits": "the other hand waits", "other-hand": "notes tapped by the other hand",
	"late-start": "the ornament starts late", "early-start": "the ornament starts early", "hands-apart": "the hands are apart on plain notes",
	"limps": "uneven: the upper notes are short", "limps-lower": "uneven: the lower notes are short",
	"crowded-front": "the notes crowd at the beginning", "crowded-back": "the notes crowd at the end",
	"rushed": "the ornament is rushed", "leans-short": "the appoggiatura is too short", "leans-long": "the appoggiatura is too long",
	"lets-go": "keys are released too soon", "bump": "a bump before going on", "dragged": "the ornament drags",
	"late-after":     "the ornament is in time, what follows is late",
	"short-of-notes": "the ornament lacks a note", "lands-late": "the next note is late", "lands-early": "the next note is early", "rushes-after": "rushing afterwards",
	"slows-after": "slowing down afterwards", "swapped": "notes are swapped", "other-keys": "notes different from the written ones",
	"missed": "notes left out", "extra": "extra taps", "uneven": "the ornament is uneven",
}
