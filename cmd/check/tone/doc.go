// Package tone sets the instruments beside recorded ones: how far their notes
// are apart, how long they ring, how bright they are, how clearly a key speaks
// again, and how loud a passage is. It builds the recordings outside the source
// from openly licensed packages, and none of them goes into the program.
package tone

// Rate is the frames a second of everything that is compared.
const Rate = 48000

// seconds is how long each recorded note is kept, and held.
const seconds = 4.0

// Strengths are the four at which notes are compared; a MIDI velocity is 127
// times as much.
var Strengths = [4]float64{0.3, 0.5, 0.7, 0.9}

// Keys are the keys of the table, C2 to C7 by fifths and fourths.
var Keys = [...]int{36, 43, 48, 55, 60, 67, 72, 79, 84, 91, 96}

// velocity is the MIDI velocity of a strength.
func velocity(strength float64) int { return int(127*strength + 0.5) }
