package place

// Beginning is how far a first visit has come; storage keeps it as it is.
type Beginning string

// The steps of a first visit: nothing done, something heard, a round tapped.
const (
	New   Beginning = ""
	Heard Beginning = "heard"
	Begun Beginning = "tapped"
)

// After is where a first visit stands when a round is over, tapped or heard.
func (b Beginning) After(tapped bool) Beginning {
	switch {
	case tapped:
		return Begun
	case b == New:
		return Heard
	}
	return b
}
