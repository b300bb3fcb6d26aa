package main

import (
	"bytes"
	"encoding/json"
	"math"

	"agremens/realize/hear"
	"agremens/realize/heard"
)

type hearJSON struct {
	Schema    int            `json:"schema"`
	Offset    *float64       `json:"offset_s"`
	Tempo     *float64       `json:"tempo"`
	Cents     float64        `json:"tuning_cents"`
	Delay     *float64       `json:"speaker_delay_s"`
	Passes    int            `json:"passes"`
	Alone     string         `json:"alone,omitempty"` // the one hand that was played
	Stopped   *string        `json:"stopped"`
	Notes     []heardJSON    `json:"notes"`
	Extra     []extraJSON    `json:"extra"`
	Ornaments []ornateJSON   `json:"ornaments"`
	Summary   string         `json:"summary,omitempty"`
	Next      string         `json:"next,omitempty"`
	Findings  []findingJSON  `json:"findings"`
	Heard     conditionsJSON `json:"heard"`
}

type heardJSON struct {
	ID         string   `json:"id"`
	MIDI       int      `json:"midi"`
	Expected   string   `json:"expected"`
	Onset      *float64 `json:"onset_s"`
	Error      *float64 `json:"error_ms"`
	Confidence float64  `json:"confidence"`
	Unsure     bool     `json:"unsure"`
	NotReached bool     `json:"not_reached,omitempty"`
	By         string   `json:"by,omitempty"`
}

type extraJSON struct {
	Onset      float64 `json:"onset_s"`
	MIDI       int     `json:"midi"`
	InsteadOf  *string `json:"instead_of"`
	Confidence float64 `json:"confidence"`
}

type ornateJSON struct {
	Note      string      `json:"note"`
	Choice    int         `json:"choice"`
	Start     *float64    `json:"start_ms"`
	Evenness  *float64    `json:"evenness"`
	Landing   *float64    `json:"landing_ms"`
	PerSecond *float64    `json:"notes_per_second"`
	Softest   string      `json:"softest,omitempty"`
	Loudest   string      `json:"loudest,omitempty"`
	Together  string      `json:"together,omitempty"` // struck at once with the note before it
	Faults    []faultJSON `json:"faults"`
}

type faultJSON struct {
	Kind string   `json:"kind"`
	MS   *float64 `json:"ms,omitempty"`
	Note string   `json:"note,omitempty"`
}

// findingJSON is one thing that the judge of taps says.
type findingJSON struct {
	Code  string `json:"code"`
	Note  string `json:"note,omitempty"` // the ornament's; "" where it holds for all
	Fault bool   `json:"fault"`
	Says  string `json:"says"`
}

type conditionsJSON struct {
	SNR     *float64 `json:"snr_db"`
	Clipped bool     `json:"clipped"`
	Reason  *string  `json:"reason"`
}

// rounded returns x to so many places, as JSON has it.
func rounded(x float64, places int) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	p := math.Pow(10, float64(places))
	v := math.Round(x*p) / p
	return &v
}

func amountJSON(a hear.Amount, places int) *float64 {
	if !a.Known {
		return nil
	}
	return rounded(a.V, places)
}

func (h *heardFile) json() ([]byte, error) {
	r := h.report
	notes := h.way.expected.Notes
	d := hearJSON{Schema: 1, Cents: *rounded(r.Cents, 1), Passes: r.Passes, Notes: []heardJSON{}, Extra: []extraJSON{}, Ornaments: []ornateJSON{}, Findings: []findingJSON{},
		Heard: conditionsJSON{SNR: rounded(r.Signal.SNR, 0), Clipped: r.Signal.Clipped}}
	if h.delay != nil {
		d.Delay = rounded(*h.delay, 5)
	}
	if r.Reason != "" {
		d.Heard.Reason = &r.Reason
	} else {
		d.Offset, d.Tempo = rounded(r.Offset, 4), rounded(r.Tempo, 1)
	}
	if at := r.Stopped; !math.IsInf(at, 1) && r.Reason == "" {
		text := fraction(at)
		d.Stopped = &text
	}
	for i, n := range r.Notes {
		j := heardJSON{ID: notes[i].ID, MIDI: notes[i].Key, Expected: h.task.place(notes[i]), Confidence: *rounded(n.Confidence, 2), Unsure: n.Unsure, NotReached: !n.Reached}
		if n.Played || n.Unsure {
			j.Onset = rounded(n.At, 5)
		}
		if n.Judged {
			j.Error = rounded(n.Error, 1)
		}
		if notes[i].Program {
			j.By = "program"
		}
		d.Notes = append(d.Notes, j)
	}
	for _, x := range r.Extra {
		j := extraJSON{*rounded(x.At, 5), x.Key, nil, *rounded(x.Confidence, 2)}
		if x.InsteadOf >= 0 {
			j.InsteadOf = &notes[x.InsteadOf].ID
		}
		d.Extra = append(d.Extra, j)
	}
	for _, o := range r.Ornaments {
		c := h.way.choices[o.Name]
		j := ornateJSON{Note: c.note, Choice: c.choice, Start: amountJSON(o.Start, 1), Evenness: amountJSON(o.Uneven, 3),
			Landing: amountJSON(o.After, 1), PerSecond: amountJSON(o.PerSecond, 1), Faults: []faultJSON{}}
		if o.Softest >= 0 {
			j.Softest, j.Loudest = notes[o.Softest].ID, notes[o.Loudest].ID
		}
		if o.Together >= 0 {
			j.Together = notes[o.Together].ID
		}
		for _, f := range h.judged.Findings {
			if k := heard.Kind(f); k != "" && (f.Ornament == o.Name || f.Ornament == "") {
				g := faultJSON{Kind: k}
				if f.MS != 0 {
					g.MS = rounded(f.MS, 1)
				}
				j.Faults = append(j.Faults, g)
			}
		}
		for _, f := range o.Faults {
			g := faultJSON{Kind: f.Kind}
			if f.Note >= 0 {
				g.Note = notes[f.Note].ID
			}
			j.Faults = append(j.Faults, g)
		}
		d.Ornaments = append(d.Ornaments, j)
	}
	d.Alone = h.alone
	d.Summary, d.Next = h.judged.Summary, h.judged.Next
	for _, f := range h.judged.Findings {
		d.Findings = append(d.Findings, findingJSON{f.Code, h.way.choices[f.Ornament].note, f.Fault, f.Teacher})
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	err := enc.Encode(d)
	return b.Bytes(), err
}
