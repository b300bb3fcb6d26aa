// Package place says which of the desk's three places is open: where one
// reads, where one practises, where something goes home. One is open at a
// time.
package place

// Place is one of the three, as the page and its storage name it.
type Place string

// The places.
const (
	Read     Place = "read"
	Practise Place = "practise"
	Send     Place = "send"
)

// All returns the places in their order.
func All() []Place { return []Place{Read, Practise, Send} }

// Parse returns the place of that name, and Read for any other text.
func Parse(name string) Place {
	for _, p := range All() {
		if name == string(p) {
			return p
		}
	}
	return Read
}

// Tapped is where one is once a round is tapped: where its result will stand.
// Listening and the rest leave one where one is.
func (p Place) Tapped() Place { return Practise }
