package diary

import (
	"strconv"
	"strings"
)

// column is one column of an export and what is in it.
type column struct {
	name   string
	round  func(r *Round) string
	quoted bool // a text, and no number or true and false
}

var columns = []column{
	{"date", func(r *Round) string { return r.Date() }, true},
	{"time", func(r *Round) string { return r.Time() }, true},
	{"name", func(r *Round) string { return r.Player }, true},
	{"passage", func(r *Round) string { return r.Passage }, true},
	{"title", func(r *Round) string { return r.Title }, true},
	{"bars", func(r *Round) string { return r.Bars }, true},
	{"kind", func(r *Round) string { return r.Kind }, true},
	{"tapped_on", func(r *Round) string { return r.With }, true},
	{"hand", func(r *Round) string { return r.Hand }, true},
	{"beats_per_minute", func(r *Round) string { return plain(r.Beats, 1) }, false},
	{"goal", func(r *Round) string { return plain(r.Goal, 1) }, false},
	{"seconds", func(r *Round) string { return strconv.Itoa(r.Seconds) }, false},
	{"wanted", func(r *Round) string { return strconv.Itoa(r.Wanted) }, false},
	{"hit", func(r *Round) string { return strconv.Itoa(r.Hit) }, false},
	{"missed", func(r *Round) string { return strconv.Itoa(r.Missed) }, false},
	{"extra", func(r *Round) string { return strconv.Itoa(r.Extra) }, false},
	{"mean_ms", func(r *Round) string { return plain(r.MeanMS, 1) }, false},
	{"spread_ms", func(r *Round) string { return plain(r.SpreadMS, 1) }, false},
	{"start_off_beat_ms", func(r *Round) string { return known(r.Starts, 1) }, false},
	{"uneven_percent", func(r *Round) string { return known(percents(r.Uneven), 1) }, false},
	{"clean", func(r *Round) string { return strconv.FormatBool(r.Clean) }, false},
	{"certain", func(r *Round) string { return strconv.FormatBool(r.Certain) }, false},
	{"without_help", func(r *Round) string { return strconv.FormatBool(r.Unaided) }, false},
	{"plain_notes", func(r *Round) string { return strconv.FormatBool(r.Plain) }, false},
	{"fault", func(r *Round) string { return r.Fault }, true},
	{"fault_at", func(r *Round) string { return r.Where }, true},
	{"dropped", func(r *Round) string { return strconv.FormatBool(r.Void) }, false},
}

// CSV writes the rounds as a table (RFC 4180), one round a line.
// start_off_beat_ms is the mean distance of the ornaments' starts from their
// beats, early or late.
func (d *Diary) CSV() []byte {
	var b strings.Builder
	for i, c := range columns {
		comma(&b, i)
		b.WriteString(c.name)
	}
	b.WriteString("\r\n")
	for i := range d.Rounds {
		for k, c := range columns {
			comma(&b, k)
			value := c.round(&d.Rounds[i])
			if c.quoted {
				value = cell(value)
			}
			b.WriteString(value)
		}
		b.WriteString("\r\n")
	}
	return []byte(b.String())
}

func comma(b *strings.Builder, i int) {
	if i > 0 {
		b.WriteByte(',')
	}
}

// cell quotes a text for a table. One that a spreadsheet would take for a
// formula gets an apostrophe in front.
func cell(s string) string {
	if s != "" && strings.ContainsRune("=+-@", rune(s[0])) {
		s = "'" + s
	}
	if strings.ContainsAny(s, ",\"\r\n") || strings.TrimSpace(s) != s {
		return `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
	}
	return s
}

// JSON writes everything: players, rounds, marks by ear, times at the piano.
// Unknown numbers are null.
func (d *Diary) JSON() []byte {
	var b strings.Builder
	b.WriteString(`{"schema":1,"players":[`)
	for i, p := range d.Players {
		comma(&b, i)
		b.WriteString(`{"name":` + quote(p.Name) + `,"notesPerSecond":` + orNull(decimal(p.Rate, 2)) + `,"measuredOn":` + quote(p.With) + `,"underTwelve":` + strconv.FormatBool(p.Young) + `}`)
	}
	b.WriteString("],\n\"rounds\":[")
	for i := range d.Rounds {
		comma(&b, i)
		b.WriteString("\n{")
		for k, c := range columns {
			comma(&b, k)
			value := c.round(&d.Rounds[i])
			if c.quoted {
				value = quote(value)
			}
			b.WriteString(quote(c.name) + ":" + orNull(value))
		}
		b.WriteByte('}')
	}
	b.WriteString("],\n\"byEar\":[")
	for i, e := range d.Ears {
		comma(&b, i)
		b.WriteString("\n{" + at(e.When, e.Player, e.Passage, e.Title) +
			`,"onBeat":` + strconv.Itoa(e.OnBeat) + `,"even":` + strconv.Itoa(e.Even) +
			`,"lands":` + strconv.Itoa(e.Lands) + `,"steady":` + strconv.Itoa(e.Steady) + "}")
	}
	b.WriteString("],\n\"atThePiano\":[")
	for i, p := range d.Pianos {
		comma(&b, i)
		b.WriteString("\n{" + at(p.When, p.Player, p.Passage, p.Title) + `,"minutes":` + strconv.Itoa(p.Minutes) + "}")
	}
	b.WriteString("]}\n")
	return []byte(b.String())
}

func at(w When, player, passage, title string) string {
	return `"date":` + quote(w.Date()) + `,"time":` + quote(w.Time()) + `,"name":` + quote(player) +
		`,"passage":` + quote(passage) + `,"title":` + quote(title)
}

func orNull(s string) string {
	if s == "" {
		return "null"
	}
	return s
}

// quote writes a JSON string (RFC 8259). Texts of a diary hold no control
// characters.
func quote(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\u2028", `\u2028`, "\u2029", `\u2029`).Replace(s) + `"`
}

// plain writes a number with at most so many places.
func plain(x float64, places int) string {
	if s := decimal(x, places); s != "" {
		return s
	}
	return "0"
}

// known writes the mean distance from 0, nothing where there is no value.
func known(x []float64, places int) string {
	if len(x) == 0 {
		return ""
	}
	return plain(Distance(x), places)
}

func percents(x []float64) []float64 {
	out := make([]float64, len(x))
	for i, v := range x {
		out[i] = 100 * v
	}
	return out
}
