package desk

import "agremens/realize/score"

// SignInfo is one sign of the menu of signs.
type SignInfo struct {
	// Key is the word for it in a kept change.
	Key, Name string
	Sign      score.Sign
	// Small signs are small notes, not a sign above the staff: each so many
	// steps from the note, with a stroke or without.
	Small []int
	Slash bool
}

// UsualSigns is how many of the signs are common; the rest are rarer.
const UsualSigns = 8

// Signs returns the signs that can be put on a note, the usual ones first.
// The names are those of MusicXML's elements in words; a mordent is the sign
// with the stroke. Names are English; [Desk.Words] says them in another language.
//
//words:texts Name
func Signs() []SignInfo {
	return []SignInfo{
		{Key: "trill", Name: "trill", Sign: score.Sign{Kind: score.TrillMark}},
		{Key: "short-trill", Name: "short trill", Sign: score.Sign{Kind: score.InvertedMordent}},
		{Key: "mordent", Name: "mordent", Sign: score.Sign{Kind: score.Mordent}},
		{Key: "turn", Name: "turn", Sign: score.Sign{Kind: score.Turn}},
		{Key: "delayed-turn", Name: "turn after the note", Sign: score.Sign{Kind: score.DelayedTurn}},
		{Key: "small-above", Name: "grace note from above", Small: []int{1}},
		{Key: "small-below", Name: "grace note from below", Small: []int{-1}},
		{Key: "stroked-above", Name: "slashed grace note", Small: []int{1}, Slash: true},
		{Key: "inverted-turn", Name: "inverted turn", Sign: score.Sign{Kind: score.InvertedTurn}},
		{Key: "long-trill", Name: "long trill", Sign: score.Sign{Kind: score.InvertedMordent, Long: true}},
		{Key: "trill-from-above", Name: "trill with turn from above", Sign: score.Sign{Kind: score.InvertedMordent, Approach: "above"}},
		{Key: "trill-from-below", Name: "trill from below", Sign: score.Sign{Kind: score.InvertedMordent, Approach: "below"}},
		{Key: "trill-with-ending", Name: "trill with termination", Sign: score.Sign{Kind: score.InvertedMordent, Departure: "above"}},
		{Key: "long-mordent", Name: "long mordent", Sign: score.Sign{Kind: score.Mordent, Long: true}},
		{Key: "slide", Name: "slide", Sign: score.Sign{Kind: score.Schleifer}},
		{Key: "stroked-below", Name: "slashed grace note from below", Small: []int{-1}, Slash: true},
		{Key: "small-from-below", Name: "two grace notes from below", Small: []int{-2, -1}},
		{Key: "small-from-above", Name: "two grace notes from above", Small: []int{2, 1}},
		{Key: "small-around", Name: "two grace notes, below and above", Small: []int{-1, 1}},
		{Key: "small-turn", Name: "three grace notes, as a turn", Small: []int{1, 0, -1}},
	}
}

// FindSign returns the sign of a key.
func FindSign(key string) (SignInfo, bool) {
	for _, s := range Signs() {
		if s.Key == key {
			return s, true
		}
	}
	return SignInfo{}, false
}

// On puts the sign on a note of a passage, in place of the sign it has; small
// notes in place of small notes.
func (s SignInfo) On(p *score.Passage, id score.ID) (*score.Passage, error) {
	if s.Small != nil {
		return withSmallNotes(p, id, s)
	}
	return p.WithSign(id, s.Sign)
}

// same reports whether a sign of a score is the one of the menu.
func (s SignInfo) same(o score.Sign) bool {
	return s.Small == nil && s.Sign.Kind == o.Kind && s.Sign.Long == o.Long &&
		s.Sign.Approach == o.Approach && s.Sign.Departure == o.Departure
}
