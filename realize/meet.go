package realize

import (
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
)

// Meeting says which note of the other hand one note of a choice meets.
type Meeting struct {
	Note  int // index in the choice's notes
	Other score.ID
	Pitch music.Pitch // of the other hand: its lowest note there
	// Together: both are struck at once; else the note falls while the other
	// sounds.
	Together bool
}

// mostMeetings is how many notes a figure has whose meetings are told: turns,
// mordents and short trills, not the notes of a long shake.
const mostMeetings = 8

// meet finds what each note of a short figure meets in the other hand.
func (pl *place) meet(notes []Note) []Meeting {
	if len(notes) < 3 || len(notes) > mostMeetings {
		return nil
	}
	p := pl.r.p
	var out []Meeting
	for i := range notes {
		at := pl.chord.Onset.Add(notes[i].Onset)
		m := Meeting{Note: i}
		pl.r.sounding(at, at.Add(music.F(1, 4096)), func(c *score.Chord, n *score.Note) {
			if c.Staff == pl.chord.Staff || p.Measures[c.Measure].End().Cmp(at) <= 0 {
				return
			}
			struck := c.Onset == at && !n.TieStop
			if m.Other != "" && n.Pitch.MIDI() >= m.Pitch.MIDI() && !(struck && !m.Together) {
				return
			}
			if m.Together && !struck {
				return
			}
			m.Other, m.Pitch, m.Together = n.ID, n.Pitch, struck
		}, pl)
		if m.Other != "" {
			out = append(out, m)
		}
	}
	return out
}

// Meets tells the meetings in words: "D with F, then C, B; C with A". Empty
// where the other hand is silent or the figure is a long one.
func (c *Choice) Meets() string {
	var parts []string // one for each note of the other hand
	last := score.ID("")
	for _, m := range c.Meetings {
		name, other := c.Naming.Name(c.Notes[m.Note].Pitch), c.Naming.Name(m.Pitch)
		switch {
		case m.Together:
			parts = append(parts, c.Words.Say("{note} with {other}", "{note}", name, "{other}", other))
		case m.Other == last:
			parts[len(parts)-1] += ", " + name
		default:
			parts = append(parts, c.Words.Say("{note} over {other}", "{note}", name, "{other}", other))
		}
		last = m.Other
		if m.Together && m.Note+1 >= len(c.Notes) {
			last = ""
		}
	}
	return strings.Join(parts, "; ")
}
