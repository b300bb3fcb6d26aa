package realize

import (
	"strings"

	"agremens/realize/score"
)

// figure is what the signs on one note ask for together, whatever a tradition
// makes of it.
type figure int8

const (
	noFigure figure = iota
	trillFigure
	shortTrillFigure
	trillMordentFigure  // trill closed by a mordent, as a sign
	belowTrillFigure    // trill with a prefix from below
	aboveTrillFigure    // trill with a prefix from above
	belowTrillMordent   // the same, closed by a mordent
	aboveTrillMordent   //
	leanedTrillFigure   // trill sign with the stroke of an appoggiatura
	mordentFigure       // lower neighbour
	longMordentFigure   //
	leanedMordentFigure // port de voix with its mordent, as one sign
	turnFigure          //
	lateTurnFigure      // turn after the note
	invertedTurnFigure  //
	lateInvertedTurn    //
	trilledTurnFigure   // turn stacked on a short trill
	slideFigure         //
	fallingSlideFigure  //
	graceFigure         // one small note
	graceGroupFigure    // several
	afterFigure         // small notes that close a note without a trill
	arpeggioFigure      //
	tremoloFigure       //
	haydnFigure         //
	risingAccentFigure  // hook before the note, from below
	fallingAccentFigure // from above
	lateTouchFigure     // hook after the note
	thirdFigure         // a third filled in
	suspensionFigure    // late entry
	aspirationFigure    // early end
	unknownFigure       //
	figureCount
)

// signFigure says what one sign asks for; stacks are joined by [stack].
func signFigure(s *score.Sign) figure {
	switch s.Kind {
	case score.TrillMark, score.WavyLine, score.Shake:
		return trillFigure
	case score.InvertedMordent:
		switch {
		case s.Approach == "below" && s.Departure != "":
			return belowTrillMordent
		case s.Approach == "above" && s.Departure != "":
			return aboveTrillMordent
		case s.Approach == "below":
			return belowTrillFigure
		case s.Approach == "above":
			return aboveTrillFigure
		case s.Departure != "":
			return trillMordentFigure
		}
		return shortTrillFigure
	case score.Mordent:
		switch {
		case s.Approach == "below":
			return belowTrillMordent
		case s.Approach == "above":
			return aboveTrillMordent
		case s.Long:
			return longMordentFigure
		}
		return mordentFigure
	case score.Turn, score.VerticalTurn:
		return turnFigure
	case score.DelayedTurn:
		return lateTurnFigure
	case score.InvertedTurn, score.InvertedVerticalTurn:
		return invertedTurnFigure
	case score.DelayedInvertedTurn:
		return lateInvertedTurn
	case score.Schleifer:
		return slideFigure
	case score.Haydn:
		return haydnFigure
	case score.Tremolo:
		return tremoloFigure
	case score.OtherOrnament:
		if f, ok := glyphFigures[s.Glyph]; ok {
			return f
		}
		if f, ok := wordFigures[strings.ToLower(strings.TrimSpace(s.Text))]; ok {
			return f
		}
	}
	return unknownFigure
}

// glyphFigures reads the ornaments that MusicXML can only name by glyph.
// Names: SMuFL 1.4, ranges "common ornaments" to "precomposed trills".
var glyphFigures = map[string]figure{
	"ornamentTrill":                               trillFigure,
	"ornamentShortTrill":                          shortTrillFigure,
	"ornamentTremblement":                         trillFigure,
	"ornamentTremblementCouperin":                 trillFigure,
	"ornamentShake3":                              trillFigure,
	"ornamentShakeMuffat1":                        trillFigure,
	"ornamentLeftShakeT":                          trillFigure,
	"ornamentComma":                               mordentFigure,
	"ornamentMordent":                             mordentFigure,
	"ornamentPinceCouperin":                       mordentFigure,
	"ornamentTurn":                                turnFigure,
	"ornamentTurnSlash":                           turnFigure,
	"ornamentTurnUp":                              turnFigure,
	"ornamentTurnUpS":                             invertedTurnFigure,
	"ornamentTurnInverted":                        invertedTurnFigure,
	"ornamentHaydn":                               haydnFigure,
	"ornamentSchleifer":                           slideFigure,
	"ornamentPrecompSlide":                        slideFigure,
	"ornamentPrecompDescendingSlide":              fallingSlideFigure,
	"ornamentPrecompAppoggTrill":                  leanedTrillFigure,
	"ornamentPrecompAppoggTrillSuffix":            leanedTrillFigure,
	"ornamentPrecompTurnTrillDAnglebert":          aboveTrillFigure,
	"ornamentPrecompSlideTrillDAnglebert":         belowTrillFigure,
	"ornamentPrecompSlideTrillMarpurg":            belowTrillFigure,
	"ornamentPrecompTurnTrillBach":                aboveTrillMordent,
	"ornamentPrecompSlideTrillBach":               belowTrillMordent,
	"ornamentPrecompSlideTrillMuffat":             belowTrillFigure,
	"ornamentPrecompSlideTrillSuffixMuffat":       belowTrillMordent,
	"ornamentPrecompTrillSuffixDandrieu":          trillMordentFigure,
	"ornamentPrecompPortDeVoixMordent":            leanedMordentFigure,
	"ornamentPrecompTrillWithMordent":             trillMordentFigure,
	"ornamentPrecompCadence":                      trillFigure,
	"ornamentPrecompCadenceWithTurn":              trillMordentFigure,
	"ornamentPrecompDoubleCadenceLowerPrefix":     belowTrillFigure,
	"ornamentPrecompCadenceUpperPrefix":           aboveTrillFigure,
	"ornamentPrecompCadenceUpperPrefixTurn":       aboveTrillMordent,
	"ornamentPrecompDoubleCadenceUpperPrefix":     aboveTrillFigure,
	"ornamentPrecompDoubleCadenceUpperPrefixTurn": aboveTrillMordent,
	"ornamentPrecompMordentRelease":               mordentFigure,
	"ornamentPrecompMordentUpperPrefix":           mordentFigure,
	"ornamentPrecompInvertedMordentUpperPrefix":   aboveTrillFigure,
	"ornamentPrecompTrillLowerSuffix":             trillMordentFigure,
	"ornamentPortDeVoixV":                         risingAccentFigure,
	"ornamentRightFacingHalfCircle":               risingAccentFigure,
	"ornamentLeftFacingHalfCircle":                fallingAccentFigure,
	"ornamentRightFacingHook":                     risingAccentFigure,
	"ornamentLeftFacingHook":                      fallingAccentFigure,
	"ornamentHookBeforeNote":                      risingAccentFigure,
	"ornamentHookAfterNote":                       lateTouchFigure,
	"ornamentUpCurve":                             risingAccentFigure,
	"ornamentDownCurve":                           fallingAccentFigure,
	"ornamentShortObliqueLineBeforeNote":          risingAccentFigure,
	"ornamentObliqueLineBeforeNote":               risingAccentFigure,
	"ornamentShortObliqueLineAfterNote":           lateTouchFigure,
	"ornamentObliqueLineAfterNote":                lateTouchFigure,
	"ornamentDoubleObliqueLinesBeforeNote":        slideFigure,
	"ornamentDoubleObliqueLinesAfterNote":         lateTouchFigure,
	"ornamentObliqueLineHorizBeforeNote":          risingAccentFigure,
	"ornamentObliqueLineHorizAfterNote":           lateTouchFigure,
	"ornamentVerticalLine":                        aspirationFigure,
	"ornamentLeftPlus":                            trillFigure,
}

// wordFigures reads the ornaments that no glyph of SMuFL stands for, by the
// name an other-ornament gives in words.
var wordFigures = map[string]figure{
	"aspiration": aspirationFigure, "son coupé": aspirationFigure, "son coupe": aspirationFigure,
	"suspension":    suspensionFigure,
	"tierce coulée": thirdFigure, "tierce coulee": thirdFigure, "slur": thirdFigure,
	"accent": lateTouchFigure,
	"trill":  trillFigure, "tremblement": trillFigure, "shake": trillFigure, "tr": trillFigure,
	"short trill": shortTrillFigure, "pralltriller": shortTrillFigure, "half trill": shortTrillFigure,
	"mordent": mordentFigure, "pincé": mordentFigure, "pince": mordentFigure, "beat": mordentFigure,
	"double mordent": longMordentFigure, "pincé double": longMordentFigure,
	"port de voix": risingAccentFigure, "forefall": risingAccentFigure,
	"coulé": fallingAccentFigure, "backfall": fallingAccentFigure,
	"turn": turnFigure, "double": turnFigure, "doublé": turnFigure, "doppelschlag": turnFigure,
	"slide": slideFigure, "schleifer": slideFigure,
}

// stack joins the figures of signs that stand on one note.
func stack(a, b figure) figure {
	if a > b {
		a, b = b, a
	}
	switch {
	case a == noFigure || b == unknownFigure:
		if a == noFigure {
			return b
		}
		return a
	case a == b:
		return a
	case a == trillFigure && b == shortTrillFigure:
		return trillFigure
	case (a == trillFigure || a == shortTrillFigure) && (b == mordentFigure || b == longMordentFigure || b == lateTurnFigure):
		return trillMordentFigure
	case a == trillFigure && (b == turnFigure || b == trilledTurnFigure):
		return trillMordentFigure // trill, then turn: the traditional order
	case a == shortTrillFigure && b == turnFigure:
		return trilledTurnFigure
	case a == belowTrillFigure && b == mordentFigure:
		return belowTrillMordent
	case a == aboveTrillFigure && b == mordentFigure:
		return aboveTrillMordent
	case a == mordentFigure && b == risingAccentFigure:
		return leanedMordentFigure
	case (a == trillFigure || a == shortTrillFigure) && b == fallingAccentFigure:
		return leanedTrillFigure
	case (a == trillFigure || a == shortTrillFigure) && b == slideFigure:
		return belowTrillFigure
	case b == arpeggioFigure || b == tremoloFigure:
		return a // the roll goes before; see arpeggio.go
	}
	return a
}

// turned reports whether a figure goes to both neighbours, as a turn does.
func (f figure) turned() bool {
	switch f {
	case turnFigure, lateTurnFigure, invertedTurnFigure, lateInvertedTurn, trilledTurnFigure, haydnFigure:
		return true
	}
	return false
}

// shaken reports whether a figure is a trill that lasts as long as its note.
func (f figure) shaken() bool {
	switch f {
	case trillFigure, trillMordentFigure, belowTrillFigure, aboveTrillFigure,
		belowTrillMordent, aboveTrillMordent, leanedTrillFigure, shortTrillFigure:
		return true
	}
	return false
}
