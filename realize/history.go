package realize

// maxHistory is how many decisions can be undone.
const maxHistory = 500

// History is a taste with the decisions that led to it and those that were
// undone. It is a value: what it returns is new, the old one stays as it was.
// The zero value holds the empty taste.
type History struct {
	now          Taste
	past, future []Taste
}

// Begin returns a history that starts with a taste, nothing to undo.
func Begin(t Taste) History { return History{now: t} }

// Taste returns the taste as it is now.
func (h History) Taste() Taste { return h.now }

// With returns the history with a new taste. What was undone is forgotten.
func (h History) With(t Taste) History {
	past := h.past[max(0, len(h.past)-maxHistory+1):]
	return History{now: t, past: append(past[:len(past):len(past)], h.now)}
}

// CanUndo and CanRedo report whether there is anything to go back or on to.
func (h History) CanUndo() bool { return len(h.past) > 0 }

// CanRedo reports whether something was undone.
func (h History) CanRedo() bool { return len(h.future) > 0 }

// Undo goes one decision back; without any it changes nothing.
func (h History) Undo() History {
	n := len(h.past)
	if n == 0 {
		return h
	}
	return History{now: h.past[n-1], past: h.past[:n-1], future: append(h.future[:len(h.future):len(h.future)], h.now)}
}

// Redo takes back one [History.Undo]; without any it changes nothing.
func (h History) Redo() History {
	n := len(h.future)
	if n == 0 {
		return h
	}
	return History{now: h.future[n-1], past: append(h.past[:len(h.past):len(h.past)], h.now), future: h.future[:n-1]}
}
