package look

// Sizes in CSS pixels a staff space.
const (
	smallestRun  = 5.0
	largestRun   = 13.0
	smallestPage = 5.5
	largestPage  = 22.0
	// leastAcross is how many spaces of a run a narrow stage shows at least: a
	// bar or two, not one note.
	leastAcross = 45.0
	// mostAcross is how many spaces of a run a wall-sized stage shows before
	// they grow beyond largestRun.
	mostAcross = 150.0
	// spacesAcross is how many spaces a page's system has where there is room
	// for it, widestSystem how many the widest has: longer lines lose the eye.
	spacesAcross = 105.0
	// betweenSystems is the free space between two systems of a page.
	betweenSystems = 4.0
	// tallest is how much higher than the run a system of the page may be.
	tallest      = 1.08
	widestSystem = 140.0
	// narrowestSystem is how many the narrowest has, however large the music.
	narrowestSystem = 20.0
	// besideSystem is what stands beside a page's system: the margins, the
	// brace and what reaches out at the right.
	besideSystem = 2*Margin + 1.8 + 0.8
)

// Margin is the free space around a layout, in staff spaces.
const Margin = 1.5

// RunSpace returns the CSS pixels a staff space for a run of so many spaces'
// height on a stage of so many pixels' width and height.
func (l *Look) RunSpace(spaces, width, height float64) float64 {
	t := l.text()
	fit := min(height/(spaces+2*Margin), width*t/leastAcross)
	return min(max(largestRun*t, width/mostAcross), max(smallestRun*t, fit)) * float64(l.Percent()) / 100
}

// RunMargin returns the free space above and below a run of so many spaces'
// height on a stage so many spaces high, in spaces: less than [Margin] where
// the run then stands there whole. Scales are few, so the one that is nearest
// to what fits may be a little too large.
func RunMargin(spaces, height float64) float64 {
	if free := (height - spaces) / 2; 0 <= free && free < Margin {
		return free
	}
	return Margin
}

// PageSpace returns the CSS pixels a staff space for a page, whose systems are
// about so many spaces high, on a stage of so many pixels' width and height:
// two whole systems are in sight where the stage is large enough to read them.
// Where the device's text is larger the music is, and less of it is in sight.
func (l *Look) PageSpace(system, width, height float64) float64 {
	two := height / (2*tallest*system + betweenSystems + 2*Margin)
	space := min(largestPage, max(smallestPage, min(width/spacesAcross, two))) * l.text() * float64(l.Percent()) / 100
	return min(space, width/(narrowestSystem+besideSystem))
}

// SystemWidth returns the width of a page's systems in staff spaces, of a
// stage so many spaces wide.
func SystemWidth(spaces float64) float64 {
	return min(max(spaces-besideSystem, narrowestSystem), widestSystem)
}
