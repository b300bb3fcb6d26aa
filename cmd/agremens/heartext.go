package main

import (
	"bytes"
	"cmp"
	"fmt"
	"math"

	"agremens/realize/hear"
)

// reasons say in a sentence why nothing is judged, and what to do.
var reasons = map[string]string{
	hear.Silent:     "Nothing was heard: the recording is silent.",
	hear.NotMusic:   "No notes were heard. Was the microphone near the instrument?",
	hear.OtherMusic: "Something was played, but not these bars.",
	hear.TooNoisy:   "There is too much noise to tell. Move nearer to the instrument.",
	hear.TooShort:   "Too little was played to tell.",
	hear.NothingDue: "There are no notes in these bars.",
}

// text writes for people what was heard.
func (h *heardFile) text() []byte {
	var b bytes.Buffer
	r, notes := h.report, h.way.expected.Notes
	if r.Reason != "" {
		fmt.Fprintf(&b, "%s\n", reasons[r.Reason])
		return b.Bytes()
	}
	played, gone, unsure := 0, 0, 0
	for _, n := range r.Notes {
		switch {
		case n.Played:
			played++
		case n.Unsure:
			unsure++
		case n.Reached:
			gone++
		}
	}
	fmt.Fprintf(&b, "%.0f quarter notes per minute; tuned %+.0f cents\n", r.Tempo, r.Cents)
	fmt.Fprintf(&b, "Notes played: %d; missing: %d; extra or other: %d; not sure: %d\n", played, gone, len(r.Extra), unsure)
	if h.alone != "" {
		fmt.Fprintf(&b, "The %s hand alone was played.\n", h.alone)
	}
	if r.Passes > 1 {
		fmt.Fprintf(&b, "Begun %d times; the last is judged.\n", r.Passes)
	}
	if !math.IsInf(r.Stopped, 1) {
		fmt.Fprintf(&b, "Stopped after quarter %s of the bars.\n", fraction(r.Stopped))
	}
	for _, o := range r.Ornaments {
		b.WriteString("\n" + cmp.Or(h.way.choices[o.Name].place, "The ornament"))
		if o.PerSecond.Known {
			fmt.Fprintf(&b, ", %.1f notes a second", o.PerSecond.V)
		}
		b.WriteString("\n")
		for _, a := range []struct {
			what string
			hear.Amount
		}{{"starts", o.Start}, {"lands", o.After}} {
			if a.Known {
				fmt.Fprintf(&b, "  %s %s\n", a.what, earlyOrLate(a.V))
			}
		}
		if o.Uneven.Known {
			fmt.Fprintf(&b, "  its intervals scatter by %.0f %%\n", 100*o.Uneven.V)
		}
		if o.Together >= 0 {
			fmt.Fprintf(&b, "  struck at once with the note before it (%s)\n", notes[o.Together].ID)
		}
		for _, f := range o.Faults {
			b.WriteString("  " + f.Kind)
			if f.Note >= 0 {
				fmt.Fprintf(&b, " (%s)", notes[f.Note].ID)
			}
			b.WriteString("\n")
		}
	}
	if len(h.judged.Findings) > 0 {
		b.WriteString("\n")
		for _, f := range h.judged.Findings {
			b.WriteString(f.Teacher + "\n")
		}
		if h.judged.Next != "" {
			b.WriteString(h.judged.Next + "\n")
		}
	}
	b.WriteString("\n   quarter  note        seconds   error\n")
	for i, n := range r.Notes {
		if !n.Reached {
			continue
		}
		what := "missing"
		if n.Played {
			what = fmt.Sprintf("%8.3f", n.At)
			if n.Judged {
				what += fmt.Sprintf("  %+5.0f ms", math.Round(n.Error)+0) // no "-0"
			}
		} else if n.Unsure {
			what = "not sure"
		}
		fmt.Fprintf(&b, "%10s  %-10s  %s\n", h.task.place(notes[i]), notes[i].ID, what)
	}
	for _, x := range r.Extra {
		fmt.Fprintf(&b, "     extra  key %-6d  %8.3f\n", x.Key, x.At)
	}
	return b.Bytes()
}

// earlyOrLate says a time as a player hears it.
func earlyOrLate(ms float64) string {
	switch {
	case ms > 20:
		return fmt.Sprintf("%.0f ms late", ms)
	case ms < -20:
		return fmt.Sprintf("%.0f ms early", -ms)
	}
	return fmt.Sprintf("on the beat (%+.0f ms)", math.Round(ms)+0) // no "-0"
}
