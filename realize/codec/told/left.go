package told

// Left is something in a file that does not reach the passage: what it is, by
// the name of its element ("lyric") or column ("**text"), and how often it stands there.
type Left struct {
	Name  string
	Count int
}

// Tally counts what does not reach the passage, at most [Most] names.
type Tally struct{ list []Left }

// Add counts one more of a name.
func (t *Tally) Add(name string) {
	for i := range t.list {
		if t.list[i].Name == name {
			t.list[i].Count++
			return
		}
	}
	if len(t.list) < Most {
		t.list = append(t.list, Left{name, 1})
	}
}

// List returns the names in the order in which they came.
func (t *Tally) List() []Left { return t.list }
