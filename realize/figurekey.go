package realize

// figureKeys are the figures' names outside this package.
var figureKeys = [figureCount]string{
	trillFigure: "trill", shortTrillFigure: "short-trill", trillMordentFigure: "trill-with-ending",
	belowTrillFigure: "trill-from-below", aboveTrillFigure: "trill-from-above",
	belowTrillMordent: "trill-from-below-with-ending", aboveTrillMordent: "trill-from-above-with-ending",
	leanedTrillFigure: "leaned-trill", mordentFigure: "mordent", longMordentFigure: "long-mordent",
	leanedMordentFigure: "leaned-mordent", turnFigure: "turn", lateTurnFigure: "late-turn",
	invertedTurnFigure: "inverted-turn", lateInvertedTurn: "late-inverted-turn", trilledTurnFigure: "trilled-turn",
	slideFigure: "slide", fallingSlideFigure: "falling-slide", graceFigure: "small-note",
	graceGroupFigure: "small-notes", afterFigure: "closing-notes", arpeggioFigure: "arpeggio",
	tremoloFigure: "tremolo", haydnFigure: "haydn", risingAccentFigure: "rising-hook",
	fallingAccentFigure: "falling-hook", lateTouchFigure: "late-hook", thirdFigure: "filled-third",
	suspensionFigure: "suspension", aspirationFigure: "aspiration", unknownFigure: "unknown",
}

// Figures returns the keys an [Ornament]'s Figure may have: all that signs can
// ask for, "unknown" for a sign that is shown and not played.
func Figures() []string { return append([]string(nil), figureKeys[1:]...) }
