// Package inbox holds the reports that came back to a teacher. It is pure; the
// store is handed in.
package inbox

import (
	"slices"
	"strings"

	"agremens/game/keep"
	"agremens/realize/codec/packet"
)

// MaxReports is how many reports are kept, the newest.
const MaxReports = 200

// Inbox is the reports on a device. The store is asked each time: another
// window may have changed it.
type Inbox struct{ store keep.Store }

// Open returns the inbox in a store.
func Open(s keep.Store) Inbox { return Inbox{s} }

// Report is one report, and the letters it came in.
type Report struct {
	packet.Report
	Letters string
}

// letters are those of all reports, the newest first.
func (b Inbox) letters() []string {
	text, _, _ := b.store.Load(keep.ReportsKey)
	return strings.Fields(text)
}

func (b Inbox) keep(all []string) error {
	return b.store.Save(keep.ReportsKey, strings.Join(all, "\n"))
}

// Reports returns those that can be read, the newest first.
func (b Inbox) Reports() []Report {
	var all []Report
	for _, l := range b.letters() {
		if r, err := packet.DecodeReport(l); err == nil {
			all = append(all, Report{r, l})
		}
	}
	return all
}

// Taken is what came of taking reports.
type Taken struct {
	N      int
	Bad    error // why one of them could not be read, nil where all could
	Unkept bool  // they could not be kept
}

// Take puts reports beside those that are here. A later report of the same
// task by the same student takes the place of the earlier one; what cannot be
// read any more goes.
func (b Inbox) Take(letters []string) Taken {
	var t Taken
	all := b.Reports()
	for _, l := range letters {
		r, err := packet.DecodeReport(l)
		if err != nil {
			t.Bad = err
			continue
		}
		t.N++
		all = slices.DeleteFunc(all, func(old Report) bool {
			return old.Name == r.Name && old.Task == r.Task && old.Bars == r.Bars
		})
		all = slices.Insert(all, 0, Report{r, l})
	}
	if t.N == 0 {
		return t
	}
	kept := make([]string, min(len(all), MaxReports))
	for i := range kept {
		kept[i] = all[i].Letters
	}
	t.Unkept = b.keep(kept) != nil
	return t
}

// Remove takes one report away.
func (b Inbox) Remove(letters string) error {
	return b.keep(slices.DeleteFunc(b.letters(), func(l string) bool { return l == letters }))
}

// Clear takes all away.
func (b Inbox) Clear() error { return b.store.Forget(keep.ReportsKey) }
