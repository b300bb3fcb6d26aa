// Package assets holds the passages that come with the program. They are
// pieces of eight bars for two staves, written for it, one for each family of
// ornaments.
package assets

import _ "embed"

// Entry is a built-in passage.
type Entry struct {
	ID     string // in addresses: "mordent"
	Title  string
	Family string // of ornaments, as its heading: "Mordents"
	ABC    string
}

//go:embed passages/mordent.abc
var mordent string

//go:embed passages/trill.abc
var trill string

//go:embed passages/turn.abc
var turn string

//go:embed passages/appoggiatura.abc
var appoggiatura string

// Passages returns the built-in passages in the order of the menu.
func Passages() []Entry {
	return []Entry{
		{"mordent", "A Minuet for Mordents", "Mordents", mordent},
		{"trill", "An Air for Trills", "Trills", trill},
		{"turn", "An Andante for Turns", "Turns", turn},
		{"appoggiatura", "A Minuet for Appoggiaturas", "Appoggiaturas", appoggiatura},
	}
}
