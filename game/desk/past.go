package desk

import (
	"strconv"
	"strings"

	"agremens/realize"
)

// mostKept bounds what is kept of the steps that can be undone, in bytes: a
// desk is kept at every touch.
const mostKept = 16_000

// save writes the changes, and the moments around the one that is now: all
// that can be done again, then as many that can be undone as there is room.
func (h *history) save(line func(name, value string)) {
	for _, c := range h.changes {
		line("change", c.text())
	}
	line("made", strconv.Itoa(h.made))
	from, size := len(h.moments), 0
	for from > 0 {
		size += len(h.moments[from-1].text)
		if from <= h.at && size > mostKept {
			break
		}
		from--
	}
	for _, m := range h.moments[from:] {
		line("moment", strconv.Itoa(m.made)+"\n"+m.text)
	}
	line("at", strconv.Itoa(h.at-from))
}

// keptPast is a history as it is read back.
type keptPast struct {
	changes  []Change
	moments  []moment
	made, at int
}

func (k *keptPast) take(name, value string) {
	switch name {
	case "change":
		if c, ok := changeOf(value); ok {
			k.changes = append(k.changes, c)
		}
	case "made":
		k.made, _ = strconv.Atoi(value)
	case "at":
		k.at, _ = strconv.Atoi(value)
	case "moment":
		made, text, _ := strings.Cut(value, "\n")
		n, err := strconv.Atoi(made)
		t, bad := realize.ParseTaste(text)
		if err == nil && bad == nil && known(t.Tradition) {
			k.moments = append(k.moments, moment{n, t, text})
		}
	}
}

// played is what was kept as if at a rate all along, notes a second: a rate is
// the player's and no step that can be undone. 0 changes nothing.
func (k keptPast) played(rate float64) keptPast {
	for i := range k.moments {
		if m := &k.moments[i]; rate > 0 {
			m.taste.Rate = rate
			m.text = m.taste.Text()
		}
	}
	return k
}

// within keeps a number of changes within those there are.
func (k *keptPast) within(n int) int { return min(max(n, 0), len(k.changes)) }

// retrace brings back what can be undone and done again. Where what was kept
// does not lead to what is now, there is nothing to go back to.
func (d *Desk) retrace(k keptPast) {
	now := d.now()
	if k.at < 0 || k.at >= len(k.moments) || k.moments[k.at].made != now.made || k.moments[k.at].text != now.text {
		return
	}
	for i := range k.moments {
		if k.moments[i].made != k.within(k.moments[i].made) {
			return
		}
	}
	d.past.moments, d.past.at = k.moments, k.at
}
