// Package look is how the user wants to see the staff, and the arithmetic of
// seeing it: how large a staff space is, which part of a layout stands on the
// stage, and how the place is kept when one view gives way to the other.
package look

import (
	"strconv"
	"strings"

	"agremens/realize/music"
)

// Limits of the staff's size, per cent of what fits the stage.
const (
	Smallest = 60
	Largest  = 220
)

// Look is what the user has set; the zero value follows the device.
type Look struct {
	// Page shows systems broken to the width; else one system that runs.
	Page bool
	// Size is the staff's height, per cent of what fits; 0 is 100.
	Size int
	// Paper is "light" or "dark", Contrast "more" or "less", Motion "flow" or
	// "bars"; "" follows the device.
	Paper, Contrast, Motion string
	// NoFingers leaves the fingering out of the words about a sign.
	NoFingers bool
	// Notes is how words call the notes.
	Notes music.Naming
	// Text is how large the device's text is, 1 as usual; 0 is 1. The music
	// grows with it where there is room. It is not kept.
	Text float64
}

// words are the values a setting may have beside "".
var words = map[string][2]string{
	"paper": {"light", "dark"}, "contrast": {"more", "less"}, "motion": {"flow", "bars"},
}

// Set changes a setting by its name; what is not understood changes nothing.
func (l *Look) Set(name, value string) {
	ok := value == "" || value == words[name][0] || value == words[name][1]
	switch name {
	case "view":
		l.Page = value == "page"
	case "size":
		if n, err := strconv.Atoi(value); err == nil && n >= Smallest && n <= Largest {
			l.Size = n
		}
	case "paper":
		if ok {
			l.Paper = value
		}
	case "contrast":
		if ok {
			l.Contrast = value
		}
	case "fingers":
		l.NoFingers = value == "off"
	case "notes":
		l.Notes = music.NamingOf(value)
	case "motion":
		if ok {
			l.Motion = value
		}
	}
}

// Customary returns the names of notes that go with a language by its code.
func Customary(language string) music.Naming {
	if language == "de" {
		return music.GermanNames
	}
	return music.EnglishNames
}

// Percent returns the staff's size, per cent of what fits.
func (l *Look) Percent() int {
	if l.Size == 0 {
		return 100
	}
	return l.Size
}

// text returns how large the device's text is.
func (l *Look) text() float64 {
	if l.Text == 0 {
		return 1
	}
	return l.Text
}

// Dark reports whether the paper is dark; device says what the device asks for.
func (l *Look) Dark(device bool) bool { return l.Paper == "dark" || l.Paper == "" && device }

// HighContrast reports whether ink and paper stand as far apart as they can.
func (l *Look) HighContrast(device bool) bool {
	return l.Contrast == "more" || l.Contrast == "" && device
}

// Still reports whether the staff goes on bar by bar instead of flowing;
// device says whether the device asks for less motion.
func (l *Look) Still(device bool) bool { return l.Motion == "bars" || l.Motion == "" && device }

// View returns "page" or "run".
func (l *Look) View() string {
	if l.Page {
		return "page"
	}
	return "run"
}

// Save writes the look as lines of "name value".
func (l *Look) Save() string {
	fingers := "on"
	if l.NoFingers {
		fingers = "off"
	}
	return "fingers " + fingers + "\nview " + l.View() + "\nsize " + strconv.Itoa(l.Percent()) +
		"\npaper " + l.Paper + "\ncontrast " + l.Contrast + "\nmotion " + l.Motion + "\nnotes " + l.Notes.Key() + "\n"
}

// Restore takes what [Look.Save] wrote; what it does not understand it leaves.
func Restore(saved string) Look {
	var l Look
	for line := range strings.Lines(saved) {
		name, value, _ := strings.Cut(strings.TrimRight(line, "\n"), " ")
		l.Set(name, value)
	}
	return l
}
