package kern

import (
	"strconv"
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
)

// records are the reference records that tell what piece it is.
type records struct {
	title, movement, heading string
	composer                 string
	opus, number             string
	catalogue                []string
	written, published       string
}

// field takes "!!!KEY: value" apart; a language after "@" is dropped.
func field(line string) (key, value string, ok bool) {
	key, value, ok = strings.Cut(strings.TrimLeft(line, "!"), ":")
	key, _, _ = strings.Cut(strings.TrimSpace(key), "@")
	return key, strings.TrimSpace(value), ok
}

// scanRecords reads the records that may stand anywhere: what letters mean,
// and what piece it is.
func (r *reader) scanRecords(lines []string) {
	for _, line := range lines {
		if !strings.HasPrefix(line, "!!!") || strings.HasPrefix(line, "!!!!") {
			continue
		}
		key, value, ok := field(line)
		if !ok || value == "" {
			continue
		}
		keep := func(to *string) {
			if *to == "" {
				*to = plain(value)
			}
		}
		switch key {
		case "RDF**kern":
			r.letters.define(value)
		case "OTL":
			keep(&r.records.title)
		case "OMV":
			keep(&r.records.movement)
		case "OMD":
			keep(&r.records.heading)
		case "COM", "COA":
			keep(&r.records.composer)
		case "OPS":
			keep(&r.records.opus)
		case "ONM":
			keep(&r.records.number)
		case "SCT", "SCT1", "SCA":
			if len(r.records.catalogue) < 4 {
				r.records.catalogue = append(r.records.catalogue, plain(value))
			}
		case "ODT":
			keep(&r.records.written)
		case "PDT":
			keep(&r.records.published)
		}
	}
}

// define reads "N = linked slur".
func (l *letters) define(text string) {
	letter, meaning, ok := strings.Cut(text, "=")
	letter = strings.TrimSpace(letter)
	if !ok || len(letter) != 1 || letter == ">" || letter == "<" {
		return
	}
	switch {
	case strings.Contains(meaning, "linked"):
		l.linked += letter
	case strings.Contains(meaning, "tremolo"):
		l.tremolo += letter
	default:
		l.other += letter
	}
}

// record reads a record where it stands: words for the tempo count from there
// on.
func (r *reader) record(line string) {
	key, value, ok := field(line)
	if !ok || key != "OMD" || strings.HasPrefix(line, "!!!!") {
		return
	}
	t := heading(value)
	r.onset(func(measure int, onset music.Frac) { r.addTempo(measure, onset, t) })
}

// heading reads "Allegro ([half]=108)".
func heading(text string) score.Tempo {
	text = plain(text)
	var t score.Tempo
	from, to := strings.IndexByte(text, '['), strings.IndexByte(text, ']')
	if from >= 0 && to > from {
		rest := strings.TrimLeft(text[to+1:], " =")
		k := 0
		for k < len(rest) && (rest[k] >= '0' && rest[k] <= '9' || rest[k] == '.') {
			k++
		}
		n, err := strconv.ParseFloat(strings.TrimRight(rest[:k], "."), 64)
		beat, known := beatOf(text[from+1 : to])
		if err == nil && known && n*beat.Quarters().Float() >= 5 && n*beat.Quarters().Float() <= 1000 {
			t.Beat, t.PerMinute = beat, n
			t.QuartersPerMinute = n * beat.Quarters().Float()
			text = text[:from] + strings.TrimLeft(rest[k:], " )")
			text = strings.TrimRight(strings.TrimSpace(text), "( ")
		}
	}
	t.Text = text
	return t
}

// beatOf names the value of "half-dot".
func beatOf(text string) (score.Value, bool) {
	name, dot := strings.CutSuffix(text, "-dot")
	v := score.Value{}
	switch name {
	case "whole":
		v.Type = score.Whole
	case "half":
		v.Type = score.Half
	case "quarter":
		v.Type = score.Quarter
	case "eighth":
		v.Type = score.Eighth
	case "sixteenth":
		v.Type = score.N16th
	}
	if dot {
		v.Dots = 1
	}
	return v, v.Type != score.Unspecified
}

// Title puts a title together: what the piece is called, its opus or number
// in a catalogue, and the movement.
func (h *records) Title() string {
	parts := []string{}
	add := func(s string) {
		if s != "" {
			parts = append(parts, s)
		}
	}
	add(h.title)
	if h.opus != "" {
		opus := "op. " + h.opus
		if h.number != "" {
			opus += " no. " + h.number
		}
		add(opus)
	}
	for _, c := range h.catalogue {
		if !strings.Contains(squeeze(h.title), squeeze(c)) {
			add(c)
		}
	}
	title := strings.Join(parts, ", ")
	heading := h.heading
	if t := heading; strings.ContainsRune(t, '[') {
		heading = headingWords(t)
	}
	movement := strings.TrimSpace(h.movement)
	if movement != "" && heading != "" {
		movement += ". "
	}
	movement += heading
	switch {
	case title == "":
		title = movement
	case movement != "":
		title += ": " + movement
	}
	return plain(title)
}

func headingWords(text string) string { return heading(text).Text }

// squeeze leaves what tells two names apart: "K. 166" is "K166".
func squeeze(s string) string {
	return strings.NewReplacer(" ", "", ".", "").Replace(strings.ToLower(s))
}

// Composer turns "Mozart, Wolfgang Amadeus" round.
func (h *records) Composer() string {
	last, first, ok := strings.Cut(h.composer, ",")
	if first = strings.TrimSpace(first); ok && first != "" {
		return first + " " + strings.TrimSpace(last)
	}
	return h.composer
}

// Year is the year of composition: of several the last. Where it is not
// known, nothing is said: a late print tells nothing about it.
func (h *records) Year() int {
	year := 0
	digits := 0
	n := 0
	for _, c := range h.written + " " {
		if c >= '0' && c <= '9' {
			digits++
			if digits <= 4 {
				n = n*10 + int(c-'0')
			}
			continue
		}
		if digits == 4 && n >= 1000 && n < 3000 {
			year = n
		}
		digits, n = 0, 0
	}
	return year
}
