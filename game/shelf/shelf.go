// Package shelf lists the passages kept on a device: opened files, places
// from paper, typed ones. It is pure; the edge stores what they hold.
package shelf

import (
	"net/url"
	"strconv"
	"strings"
)

// Bounds of what is kept. A browser gives a site five million letters or so:
// that bounds long files; short ones, as tasks are, their number.
const (
	MostItems = 400
	MostSize  = 3_000_000
)

// Kind says what an item's bytes are.
type Kind string

// Kinds of items.
const (
	File  Kind = "file"  // as it was opened
	Paper Kind = "paper" // the form of a place on paper
	Typed Kind = "typed" // ABC text
	Task  Kind = "task"  // a task from a teacher, in letters
)

// Item is one kept passage.
type Item struct {
	ID   string
	Kind Kind
	Name string
	Size int // letters it takes in storage
	// Part is the id of the part chosen in a file that has several, else "".
	Part string
	// Title and Composer are those of the music, "" not known; Used is the day
	// on which it was opened last, since 1 January 1970, 0 not known.
	Title, Composer string
	Used            int
}

// Same reports whether two items are of the same thing, whenever they were used.
func (it Item) Same(o Item) bool {
	return it.Kind == o.Kind && it.Name == o.Name && it.Size == o.Size && it.Part == o.Part
}

// Shelf is the list, the one used longest ago first. It is a value: what
// changes it returns a new one.
type Shelf struct {
	Items []Item
	last  int // number of the newest id
}

// Put adds an item, or puts a known one last; one without an id gets a new
// one. Then it drops, oldest first, what no longer fits; the item itself
// stays, if need be alone.
func (s Shelf) Put(it Item) (next Shelf, put Item, dropped []Item) {
	next.last = s.last
	for _, o := range s.Items {
		if o.ID != it.ID {
			next.Items = append(next.Items, o)
		}
	}
	if it.ID == "" {
		next.last++
		it.ID = "kept-" + strconv.Itoa(next.last)
	}
	next.Items = append(next.Items, it)
	for len(next.Items) > 1 && (len(next.Items) > MostItems || next.size() > MostSize) {
		var oldest Item
		next, oldest, _ = next.DropOldest()
		dropped = append(dropped, oldest)
	}
	return next, it, dropped
}

// DropOldest takes the first item away, unless it is the only one.
func (s Shelf) DropOldest() (next Shelf, dropped Item, ok bool) {
	if len(s.Items) < 2 {
		return s, Item{}, false
	}
	return Shelf{s.Items[1:len(s.Items):len(s.Items)], s.last}, s.Items[0], true
}

// Without takes an item away.
func (s Shelf) Without(id string) Shelf {
	next := Shelf{last: s.last}
	for _, it := range s.Items {
		if it.ID != id {
			next.Items = append(next.Items, it)
		}
	}
	return next
}

// Find returns an item by its id.
func (s Shelf) Find(id string) (Item, bool) {
	for _, it := range s.Items {
		if it.ID == id {
			return it, true
		}
	}
	return Item{}, false
}

func (s Shelf) size() int {
	n := 0
	for _, it := range s.Items {
		n += it.Size
	}
	return n
}

// Text writes the list as lines; Parse reads it.
func (s Shelf) Text() string {
	var b strings.Builder
	b.WriteString("shelf " + strconv.Itoa(s.last) + "\n")
	for _, it := range s.Items {
		b.WriteString(it.ID + " " + string(it.Kind) + " " + strconv.Itoa(it.Size) + " " + url.QueryEscape(it.Name) + " " + url.QueryEscape(it.Part) + "\n")
		if it.Title != "" || it.Composer != "" || it.Used > 0 {
			// A line of its own: an older program passes over it.
			b.WriteString("used " + it.ID + " " + strconv.Itoa(it.Used) + " " + url.QueryEscape(it.Title) + " " + url.QueryEscape(it.Composer) + " .\n")
		}
	}
	return b.String()
}

// Parse reads a list; lines it does not understand are left out.
func Parse(text string) Shelf {
	var s Shelf
	for _, line := range strings.Split(text, "\n") {
		f := strings.Split(line, " ")
		switch {
		case len(f) == 2 && f[0] == "shelf":
			s.last, _ = strconv.Atoi(f[1])
		case len(f) == 6 && f[0] == "used" && len(s.Items) > 0 && s.Items[len(s.Items)-1].ID == f[1]:
			it := &s.Items[len(s.Items)-1]
			it.Used, _ = strconv.Atoi(f[2])
			it.Title, _ = url.QueryUnescape(f[3])
			it.Composer, _ = url.QueryUnescape(f[4])
		case len(f) == 5 && len(s.Items) < MostItems:
			it := Item{ID: f[0], Kind: Kind(f[1])}
			size, err := strconv.Atoi(f[2])
			if err != nil || size < 0 || it.Kind != File && it.Kind != Paper && it.Kind != Typed && it.Kind != Task {
				continue
			}
			it.Size = size
			it.Name, _ = url.QueryUnescape(f[3])
			it.Part, _ = url.QueryUnescape(f[4])
			s.Items = append(s.Items, it)
		}
	}
	return s
}
