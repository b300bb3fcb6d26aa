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
	if len(c.Findings) > 0 {
		r.Fault = fault(c.Findings)
	}
	return r.tidy()
}

var handWords = map[round.Hands]string{round.RightHand: "right", round.LeftHand: "left", round.BothHands: "both"}

// fault returns the first code that names a fault.
func fault(codes []string) string {
	for _, code := range codes {
		if faultWords[code] != "" {
			return code
		}
	}
	return ""
}

// Fault puts a fault's code into a few words of English, "" for what is none.
func Fault(code string) string { return faultWords[code] }

// The codes are those of package tap.
//
//words:texts
var faultWords = map[string]string{
	"reacting": "every beat comes late: waiting to hear it", "drift": "the tempo drifts", "unsteady": "plain notes wander around the beat",
	"before-beat": "the small notes come before the beat", "turn-two-quick": "the turn comes as two quick notes and one slow",
	"turn-early": "the turn comes too soon", "no-ending": "the ending is left out", "fewer-notes": "fewer small notes than planned",
	"more-notes": "more small notes than planned", "hand-waits": "the other hand waits", "other-hand": "notes tapped by the other hand",
	"late-start": "the ornament starts late", "early-start": "the ornament starts early", "hands-apart": "the hands stand apart on plain notes",
	"limps": "it limps: the upper notes are short", "limps-lower": "it limps: the lower notes are short",
	"crowded-front": "the small notes crowd at the beginning", "crowded-back": "the small notes crowd at the end",
	"rushed": "the small notes run ahead", "leans-short": "the appoggiatura is too short", "leans-long": "the appoggiatura is too long",
	"lets-go": "keys come up too soon", "bump": "a bump before going on", "dragged": "the small notes take too long",
	"lands-late": "the next note comes late", "lands-early": "the next note comes early", "rushes-after": "the music runs ahead afterwards",
	"slows-after": "the music slows afterwards", "swapped": "notes change places", "other-keys": "notes different from the written ones",
	"missed": "notes left out", "extra": "taps that have no note", "uneven": "the small notes are not alike",
}
