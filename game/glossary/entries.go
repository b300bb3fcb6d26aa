package glossary

import (
	"agremens/realize"
	"agremens/realize/score"
)

// Names everybody uses are common practice; what follows one writer says
// whose it is; the rest comes from memory and was not checked. The page says
// that once, and marks the names that were read in their source.

func usual(texts ...string) []Name { return names(realize.CommonPractice, texts) }

func names(s realize.Status, texts []string) []Name {
	var out []Name
	for _, t := range texts {
		out = append(out, Name{Text: t, Status: s})
	}
	return out
}

// and adds names from memory.
func and(names []Name, texts ...string) []Name {
	for _, t := range texts {
		names = append(names, Name{Text: t, Status: realize.StatusMemory})
	}
	return names
}

func memory(texts ...string) []Name { return and(nil, texts...) }

// by adds a name that was read in, or is reported of, one source.
func by(names []Name, text, of string, s realize.Status) []Name {
	return append(names, Name{Text: text, Status: s, Of: of})
}

const (
	read     = realize.StatusRead
	reported = realize.StatusReported
	recalled = realize.StatusMemory
)

//words:texts
const (
	bach        = "J.S. Bach, Explication, 1720"
	cpe         = "C.P.E. Bach, Versuch I, 1753"
	danglebert  = "J.-H. d'Anglebert, table of 1689"
	couperin    = "F. Couperin, table of 1713"
	rameau      = "J.-P. Rameau, table of 1724"
	rules       = "Rules for Graces, 1697"
	turk        = "D.G. Türk, Klavierschule, 1789"
	laterFrench = "later French books"
)

// note is a note with something before it and after it, far enough away not to
// change what is played.
const (
	long = "E2 c2|C4"
)

//words:texts Asks
var entries = []Entry{
	{Key: "trill", note: "E2 !trill!c2|C4", Asks: "A quick alternation with the upper note, for most or all of the note.",
		Names: [languages][]Name{
			by(usual("trill"), "shake", rules, recalled), by(usual("Triller"), "Trillo", bach, read),
			by(by(usual("trille"), "tremblement", danglebert, recalled), "cadence", rameau, recalled), usual("trillo")}},
	{Key: "short-trill", note: "E !uppermordent!c G E|C4", Asks: "A short, quick alternation with the upper note: a few notes, then the note is held.",
		Names: [languages][]Name{
			and(usual("short trill"), "upper mordent", "half shake", "inverted mordent"), by(by(usual("Pralltriller"), "Trillo", bach, read), "wie ein Schneller", cpe, read),
			and(nil, "tremblement", "mordant supérieur"), memory("trillo corto", "mordente superiore")}},
	{Key: "mordent", note: "E !mordent!c G E|C4", Asks: "The note, the lower note and the note again, quickly; then the note is held.",
		Names: [languages][]Name{
			by(and(usual("mordent"), "lower mordent"), "beat", rules, recalled), by(usual("Mordent"), "Mordant", bach, read),
			by(usual("pincé"), "mordant", laterFrench, recalled), memory("mordente inferiore", "mordente")}},
	{Key: "turn", note: "E !turn!c G E|C4", Asks: "Around the note: upper note, main note, lower note, main note.",
		Names: [languages][]Name{
			usual("turn"), by(usual("Doppelschlag"), "Cadence", bach, read),
			by(by(usual("gruppetto"), "doublé", rameau, reported), "double cadence sans tremblement", danglebert, reported), and(usual("gruppetto"), "groppetto")}},
	{Key: "late-turn", note: long, sign: score.Sign{Kind: score.DelayedTurn}, Asks: "The note first, and the turn in its last part, just before the next note.",
		Names: [languages][]Name{
			and(usual("turn after the note"), "delayed turn"), memory("Doppelschlag nach der Note", "Doppelschlag zwischen den Noten"), memory("gruppetto après la note"), memory("gruppetto dopo la nota")}},
	{Key: "inverted-turn", note: "E !invertedturn!c G E|C4", Asks: "The turn from below: lower note, main note, upper note, main note.",
		Names: [languages][]Name{
			usual("inverted turn"), memory("umgekehrter Doppelschlag"), memory("gruppetto renversé"), memory("gruppetto rovesciato")}},
	{Key: "small-note", note: "E {d}c2 E|C4", Asks: "A grace note that is slurred into the note and takes some of its time; the traditions differ in how much.",
		Names: [languages][]Name{
			by(and(usual("appoggiatura"), "grace note"), "backfall (↓), forefall (↑)", rules, recalled), by(usual("Vorschlag"), "Accent", bach, read),
			by(usual("appoggiature"), "coulé (↓), port de voix (↑)", couperin, recalled), usual("appoggiatura")}},
	{Key: "stroked-note", note: "E {/d}c2 E|C4", Asks: "A slashed grace note: short in later editions; in older music the slash is often the editor's and proves little.",
		Names: [languages][]Name{
			and(usual("acciaccatura"), "short appoggiatura", "crushed note"), usual("kurzer Vorschlag"), memory("acciaccatura", "appoggiature brève", "petite note barrée"), usual("acciaccatura")}},
	{Key: "small-notes", note: "E {Bd}c2 E|C4", Asks: "Several grace notes, quick and light, that lead into the note.",
		Names: [languages][]Name{
			and(usual("grace notes"), "double appoggiatura"), by(memory("Vorschlagsnoten"), "Anschlag", turk, read), memory("petites notes"), memory("piccole note")}},
	{Key: "closing-notes", note: "E2 c2{Bc}|C4", Asks: "Grace notes at the end of the note, in the last part of its time.",
		Names: [languages][]Name{
			and(usual("termination"), "suffix", "afterbeat"), by(nil, "Nachschläge", cpe, read), memory("terminaison"), memory("chiusa", "risoluzione")}},
	{Key: "trill-with-ending", note: long, sign: score.Sign{Kind: score.InvertedMordent, Departure: "above"}, Asks: "A trill with a termination through the lower note.",
		Names: [languages][]Name{
			by(memory("trill with a termination"), "shake turned", rules, recalled), by(usual("Triller mit Nachschlag"), "Trillo und Mordant", bach, read),
			by(by(nil, "tremblement et pincé", danglebert, reported), "double cadence", rameau, reported), memory("trillo con terminazione")}},
	{Key: "trill-from-below", note: long, sign: score.Sign{Kind: score.InvertedMordent, Approach: "below"}, Asks: "A trill that starts from the lower note.",
		Names: [languages][]Name{
			memory("ascending trill", "trill with a prefix from below"), by(by(nil, "Triller von unten", cpe, read), "Doppelt-Cadence", bach, read),
			by(nil, "cadence", danglebert, reported), memory("trillo con prefisso dal basso")}},
	{Key: "trill-from-above", note: long, sign: score.Sign{Kind: score.InvertedMordent, Approach: "above"}, Asks: "A trill that starts with a turn from above.",
		Names: [languages][]Name{
			memory("descending trill", "trill with a prefix from above"), by(by(nil, "Triller mit Doppelschlag von oben", cpe, read), "Doppelt-Cadence", bach, read),
			by(nil, "cadence", danglebert, reported), memory("trillo con prefisso dall'alto")}},
	{Key: "trill-from-below-with-ending", note: long, sign: score.Sign{Kind: score.InvertedMordent, Approach: "below", Departure: "above"}, Asks: "A trill that starts from the lower note, with a termination.",
		Names: [languages][]Name{
			memory("trill from below with a termination"), by(nil, "Doppelt-Cadence und Mordant", bach, read), memory("double cadence"), memory("trillo dal basso con terminazione")}},
	{Key: "trill-from-above-with-ending", note: long, sign: score.Sign{Kind: score.InvertedMordent, Approach: "above", Departure: "above"}, Asks: "A trill that starts with a turn from above, with a termination.",
		Names: [languages][]Name{
			memory("trill from above with a termination"), by(nil, "Doppelt-Cadence und Mordant", bach, read), memory("double cadence"), memory("trillo dall'alto con terminazione")}},
	{Key: "leaned-trill", note: long, sign: score.Sign{Kind: score.OtherOrnament, Glyph: "ornamentPrecompAppoggTrill"}, Asks: "First an appoggiatura from above, then the trill.",
		Names: [languages][]Name{
			by(memory("trill with appoggiatura", "prepared trill"), "plain note and shake", rules, recalled), by(nil, "Accent und Trillo", bach, read),
			by(nil, "tremblement appuyé", danglebert, recalled), memory("trillo con appoggiatura")}},
	{Key: "long-mordent", note: "E2 !longmordent!c2|C4", Asks: "A mordent with more repercussions: the note and the lower note more than once, then the note held.",
		Names: [languages][]Name{
			and(usual("long mordent"), "double mordent"), by(nil, "langer Mordent", cpe, read), by(nil, "pincé double", couperin, recalled), memory("mordente doppio")}},
	{Key: "leaned-mordent", note: long, sign: score.Sign{Kind: score.OtherOrnament, Glyph: "ornamentPrecompPortDeVoixMordent"}, Asks: "First an appoggiatura from below, then a mordent.",
		Names: [languages][]Name{
			memory("appoggiatura with a mordent"), by(nil, "Accent und Mordant", bach, read),
			by(by(nil, "cheute et pincé", danglebert, recalled), "port de voix", couperin, recalled), memory("appoggiatura con mordente")}},
	{Key: "trilled-turn", note: "E {d}!turn!!uppermordent!c2 E|C4", Asks: "A turn whose first two notes are repeated with a snap.",
		Names: [languages][]Name{
			memory("trilled turn"), by(nil, "prallender Doppelschlag", cpe, read), memory("doublé avec tremblement"), memory("gruppetto con trillo")}},
	{Key: "late-inverted-turn", note: long, sign: score.Sign{Kind: score.DelayedInvertedTurn}, Asks: "The note first, then the turn from below, just before the next note.",
		Names: [languages][]Name{
			memory("inverted turn after the note"), memory("umgekehrter Doppelschlag nach der Note"), memory("gruppetto renversé après la note"), memory("gruppetto rovesciato dopo la nota")}},
	{Key: "slide", note: "E !slide!c2 E|C4", Asks: "Two notes that run up into the note from a third below.",
		Names: [languages][]Name{
			usual("slide"), usual("Schleifer"), memory("coulé", "flatté"), memory("portamento")}},
	{Key: "falling-slide", note: long, sign: score.Sign{Kind: score.OtherOrnament, Glyph: "ornamentPrecompDescendingSlide"}, Asks: "Two notes that run down into the note from a third above.",
		Names: [languages][]Name{memory("falling slide"), memory("Schleifer von oben"), memory("coulé en descendant"), memory("portamento discendente")}},
	{Key: "haydn", note: "E !haydn!c G E|C4", Asks: "J. Haydn's own sign, found for a mordent and for a turn.",
		Names: [languages][]Name{memory("Haydn ornament", "Haydn's sign"), memory("Haydn-Ornament"), memory("ornement de Haydn"), memory("ornamento di Haydn")}},
	{Key: "arpeggio", note: "E !arpeggio![CEGc]2 E|C4", Asks: "The notes of the chord one after the other, each held.",
		Names: [languages][]Name{
			and(usual("arpeggio"), "rolled chord"), and(usual("Arpeggio"), "Brechung"), and(usual("arpège"), "harpègement"), usual("arpeggio")}},
	{Key: "tremolo", note: "E2 !tremolo!c2|C4", Asks: "The note repeated in the values shown by the strokes.",
		Names: [languages][]Name{usual("tremolo"), usual("Tremolo"), usual("trémolo"), usual("tremolo")}},
	{Key: "rising-hook", note: long, sign: score.Sign{Kind: score.OtherOrnament, Glyph: "ornamentRightFacingHook"}, Asks: "A hook or stroke before the note: an appoggiatura from below.",
		Names: [languages][]Name{
			by(memory("rising appoggiatura"), "forefall", rules, recalled), by(nil, "Accent, steigend", bach, read), memory("port de voix", "cheute"), memory("appoggiatura ascendente")}},
	{Key: "falling-hook", note: long, sign: score.Sign{Kind: score.OtherOrnament, Glyph: "ornamentLeftFacingHook"}, Asks: "A hook or stroke before the note: an appoggiatura from above.",
		Names: [languages][]Name{
			by(memory("falling appoggiatura"), "backfall", rules, recalled), by(nil, "Accent, fallend", bach, read), memory("coulé", "cheute en descendant"), memory("appoggiatura discendente")}},
	{Key: "late-hook", note: long, sign: score.Sign{Kind: score.OtherOrnament, Glyph: "ornamentHookAfterNote"}, Asks: "A hook after the note: the auxiliary is touched at the very end.",
		Names: [languages][]Name{memory("springer"), memory("Nachschlag"), by(nil, "accent", couperin, recalled), memory("accento")}},
	{Key: "filled-third", note: "E !tiercecoulee!c A E|C4", Asks: "The third between this note and the next is filled in with the note between them.",
		Names: [languages][]Name{by(nil, "slur", rules, recalled), memory("ausgefüllte Terz"), by(nil, "tierce coulée", couperin, recalled), memory("terza riempita")}},
	{Key: "suspension", note: "E2 !suspension!c2|C4", Asks: "The note enters late, after a short silence.",
		Names: [languages][]Name{memory("late entry"), memory("verspäteter Einsatz"), by(nil, "suspension", rameau, reported), memory("entrata ritardata")}},
	{Key: "aspiration", note: "E2 !aspiration!c2|C4", Asks: "The note is released early, with a short silence after it.",
		Names: [languages][]Name{memory("early release"), memory("verkürzte Note"), by(by(nil, "aspiration", couperin, reported), "son coupé", rameau, reported), memory("nota abbreviata")}},
}
