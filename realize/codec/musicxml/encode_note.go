package musicxml

import (
	"slices"
	"strconv"

	"agremens/realize/score"
)

// What the schema allows.
var (
	accidentalValues = plainWords("sharp natural flat double-sharp sharp-sharp flat-flat natural-sharp natural-flat " +
		"quarter-flat quarter-sharp three-quarters-flat three-quarters-sharp sharp-down sharp-up natural-down natural-up " +
		"flat-down flat-up double-sharp-down double-sharp-up flat-flat-down flat-flat-up triple-sharp triple-flat " +
		"slash-quarter-sharp slash-sharp slash-flat double-slash-flat sori koron other")
	headValues = plainWords("slash triangle diamond square cross x circle-x circled slashed cluster rectangle none do re mi fa so la ti other")
	barStyles  = plainWords("regular dotted dashed heavy light-light light-heavy heavy-light heavy-heavy tick short none")
	articWords = plainWords("accent strong-accent staccato tenuto detached-legato staccatissimo spiccato scoop plop doit falloff " +
		"breath-mark caesura stress unstress soft-accent other-articulation")
	dynamicWords = plainWords("p pp ppp pppp ppppp pppppp f ff fff ffff fffff ffffff mp mf sf sfp sfpp fp rf rfz sfz sffz fz n pf sfzp")
)

var valueWords = map[score.ValueType]string{
	score.Long: "long", score.Breve: "breve", score.Whole: "whole", score.Half: "half", score.Quarter: "quarter",
	score.Eighth: "eighth", score.N16th: "16th", score.N32nd: "32nd", score.N64th: "64th", score.N128th: "128th", score.N256th: "256th",
}

var (
	beamWords = map[score.Beam]string{
		score.BeamBegin: "begin", score.BeamContinue: "continue", score.BeamEnd: "end",
		score.BeamForwardHook: "forward hook", score.BeamBackwardHook: "backward hook",
	}
	stemWords = map[score.Stem]string{score.StemUp: "up", score.StemDown: "down", score.StemNone: "none"}
)

// chord writes the <note> elements of a chord or rest.
func (w *encoder) chord(k int) {
	c := &w.p.Chords[k]
	if c.IsRest() {
		w.startNote(c, "")
		if c.Grace != nil {
			w.grace(c.Grace)
		}
		w.rest(c)
		w.value(k, 0)
		w.end()
		return
	}
	head := headNote(c)
	for at := range c.Notes {
		// The note on the chord's own staff comes first and carries what
		// belongs to all.
		j := at
		if at == 0 {
			j = head
		} else if at <= head {
			j = at - 1
		}
		n := &c.Notes[j]
		id := ""
		if xmlName(string(n.ID)) && string(n.ID) != w.partID && !w.noteIDs[n.ID] {
			w.noteIDs[n.ID] = true
			id = string(n.ID)
		}
		w.startNote(c, id)
		if c.Grace != nil {
			w.grace(c.Grace)
		}
		if at > 0 {
			w.empty("chord")
		}
		w.start("pitch")
		w.text("step", n.Pitch.Step.String())
		if n.Pitch.Alter != 0 {
			w.text("alter", strconv.Itoa(int(n.Pitch.Alter)))
		}
		w.text("octave", strconv.Itoa(min(max(int(n.Pitch.Octave), 0), 9)))
		w.end()
		w.value(k, j)
		w.end()
	}
}

// headNote is the index of the lowest note on the chord's staff.
func headNote(c *score.Chord) int {
	return max(0, slices.IndexFunc(c.Notes, func(n score.Note) bool { return n.Staff == c.Staff }))
}

func (w *encoder) startNote(c *score.Chord, id string) {
	var attrs []string
	if id != "" {
		attrs = append(attrs, "id", id)
	}
	if c.Hidden {
		attrs = append(attrs, "print-object", "no")
	}
	w.start("note", attrs...)
}

func (w *encoder) grace(g *score.Grace) {
	var attrs []string
	if g.StealPrevious > 0 {
		attrs = append(attrs, "steal-time-previous", decimal(g.StealPrevious))
	}
	if g.StealFollowing > 0 {
		attrs = append(attrs, "steal-time-following", decimal(g.StealFollowing))
	}
	if g.MakeTime.Sign() > 0 {
		attrs = append(attrs, "make-time", w.ticks(g.MakeTime))
	}
	if g.Slash {
		attrs = append(attrs, "slash", "yes")
	}
	w.empty("grace", attrs...)
}

func decimal(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

func (w *encoder) rest(c *score.Chord) {
	var attrs []string
	if c.WholeRest {
		attrs = append(attrs, "measure", "yes")
	}
	if c.RestPos == nil {
		w.empty("rest", attrs...)
		return
	}
	w.start("rest", attrs...)
	w.text("display-step", c.RestPos.Step.String())
	w.text("display-octave", strconv.Itoa(min(max(int(c.RestPos.Octave), 0), 9)))
	w.end()
}

// value writes everything that follows the pitch, in the schema's order.
func (w *encoder) value(k, j int) {
	c := &w.p.Chords[k]
	var n score.Note
	if !c.IsRest() {
		n = c.Notes[j]
	}
	if c.Grace == nil {
		w.text("duration", w.ticks(c.Dur))
	}
	if n.TieStop {
		w.empty("tie", "type", "stop")
	}
	if n.TieStart {
		w.empty("tie", "type", "start")
	}
	w.text("voice", c.Voice)
	if c.Value.Type != score.Unspecified && !c.WholeRest {
		var attrs []string
		if c.Cue {
			attrs = append(attrs, "size", "cue")
		}
		w.text("type", valueWords[c.Value.Type], attrs...)
		for range c.Value.Dots {
			w.empty("dot")
		}
	}
	if accidentalValues[n.Accidental] {
		var attrs []string
		if n.Parentheses {
			attrs = append(attrs, "parentheses", "yes")
		}
		w.text("accidental", n.Accidental, attrs...)
	}
	if c.Value.Actual > 0 && c.Value.Normal > 0 && !c.WholeRest {
		w.start("time-modification")
		w.text("actual-notes", strconv.Itoa(c.Value.Actual))
		w.text("normal-notes", strconv.Itoa(c.Value.Normal))
		w.end()
	}
	if s := stemWords[c.Stem]; s != "" {
		w.text("stem", s)
	}
	if headValues[n.Head] {
		w.text("notehead", n.Head)
	}
	staff := c.Staff
	if n.Staff != 0 {
		staff = n.Staff
	}
	if w.p.Staves > 1 {
		w.text("staff", strconv.Itoa(staff))
	}
	if j == headNote(c) {
		for level, b := range c.Beams[:min(len(c.Beams), 8)] {
			if b != score.BeamNone {
				w.text("beam", beamWords[b], "number", strconv.Itoa(level+1))
			}
		}
	}
	w.notations(k, j, &n)
}

// notations writes what is attached to note j of a chord, into one element.
func (w *encoder) notations(k, j int, n *score.Note) {
	from := len(w.buf)
	w.start("notations")
	inside := len(w.buf)
	c := &w.p.Chords[k]
	if n.TieStop {
		w.empty("tied", "type", "stop")
	}
	if n.TieStart {
		w.empty("tied", "type", "start")
	}
	first := j == headNote(c)
	if first {
		w.slurMarks(k)
		w.tupletMarks(k)
	}
	w.ornaments(c, j)
	if n.Fingering != "" {
		w.start("technical")
		w.text("fingering", n.Fingering)
		w.end()
	}
	if first && slices.ContainsFunc(c.Artic, func(a score.Articulation) bool { return articWords[string(a)] }) {
		w.start("articulations")
		for _, a := range c.Artic {
			if articWords[string(a)] {
				w.empty(string(a))
			}
		}
		w.end()
	}
	if first && c.Fermata {
		w.empty("fermata")
	}
	switch {
	case c.Arpeggio == score.ArpeggioBracket:
		side := "bottom"
		if j > 0 && j == len(c.Notes)-1 {
			side = "top"
		}
		if j == 0 || side == "top" {
			w.empty("non-arpeggiate", "type", side)
		}
	case c.Arpeggio != "" && c.ArpeggioDirected:
		w.empty("arpeggiate", "direction", string(c.Arpeggio))
	case c.Arpeggio != "":
		w.empty("arpeggiate")
	}
	if len(w.buf) == inside {
		w.buf = w.buf[:from]
		w.open = w.open[:len(w.open)-1]
		return
	}
	w.end()
}

// side adds the placement a thing has, if the passage knows it.
func side(attrs []string, above, placed bool) []string {
	switch {
	case placed && above:
		return append(attrs, "placement", "above")
	case placed:
		return append(attrs, "placement", "below")
	}
	return attrs
}

func (w *encoder) slurMarks(k int) {
	for _, n := range w.slurs[k] {
		number := strconv.Itoa(n.number)
		if n.stop {
			w.empty("slur", "type", "stop", "number", number)
			continue
		}
		s := w.p.Slurs[n.index]
		attrs := []string{"type", "start", "number", number}
		if s.Dashed {
			attrs = append(attrs, "line-type", "dashed")
		}
		w.empty("slur", side(attrs, s.Above, s.Placed)...)
	}
}

func (w *encoder) tupletMarks(k int) {
	for _, n := range w.tuplets[k] {
		number := strconv.Itoa(n.number)
		if n.stop {
			w.empty("tuplet", "type", "stop", "number", number)
			continue
		}
		t := w.p.Tuplets[n.index]
		attrs := []string{"type", "start", "number", number, "bracket", yesNo(t.Bracket)}
		if !t.ShowNumber {
			attrs = append(attrs, "show-number", "none")
		}
		attrs = side(attrs, t.Above, t.Placed)
		if t.Actual < 1 || t.Normal < 1 {
			w.empty("tuplet", attrs...)
			continue
		}
		w.start("tuplet", attrs...)
		w.start("tuplet-actual")
		w.text("tuplet-number", strconv.Itoa(t.Actual))
		w.end()
		w.start("tuplet-normal")
		w.text("tuplet-number", strconv.Itoa(t.Normal))
		w.end()
		w.end()
	}
}

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}
