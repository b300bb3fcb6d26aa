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
//
//words:texts Title
func Passages() []Entry {
	return []Entry{
		{ID: "mordent", Title: "A March for Mordents", Family: "Mordents", ABC: mordent},
		{ID: "trill", Title: "An Air for Trills", Family: "Trills", ABC: trill},
		{ID: "turn", Title: "An Andante for Turns", Family: "Turns", ABC: turn},
		{ID: "appoggiatura", Title: "A Siciliano for Appoggiaturas", Family: "Appoggiaturas", ABC: appoggiatura},
	}
}
