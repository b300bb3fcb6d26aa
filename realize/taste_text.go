package realize

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"agremens/realize/score"
	"agremens/realize/sorting"
)

// ErrTaste says that a text is no taste.
var ErrTaste = errors.New("realize: these are no decisions")

// tasteVersion is written first; what is older is read.
const tasteVersion = 1

// maxTaste bounds the lines that are read.
const maxTaste = 20000

// Text writes a taste as lines: a word, then fields, those that may hold
// anything in quotation marks as in Go. The same taste gives the same text.
func (t Taste) Text() string {
	var b strings.Builder
	line := func(word string, fields ...string) {
		b.WriteString(word)
		for _, f := range fields {
			b.WriteString(" " + strconv.Quote(f))
		}
		b.WriteByte('\n')
	}
	number := func(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
	line("decisions", strconv.Itoa(tasteVersion))
	if t.Tradition != "" {
		line("tradition", t.Tradition)
	}
	if t.Prefer != "" {
		line("prefer", string(t.Prefer))
	}
	if t.Tempo != 0 {
		line("tempo", number(t.Tempo))
	}
	if t.Rate != 0 {
		line("rate", number(t.Rate))
	}
	if t.Reach != 0 {
		line("reach", strconv.Itoa(t.Reach))
	}
	for _, signs := range slices.Sorted(maps.Keys(t.Standing)) {
		line("always", signs, t.Standing[signs])
	}
	for _, id := range slices.Sorted(maps.Keys(t.Chosen)) {
		line("chosen", string(id), t.Chosen[id])
	}
	passes := slices.Collect(maps.Keys(t.Passes))
	sorting.Stable(passes, func(a, b InPass) int {
		return cmp.Or(cmp.Compare(a.Note, b.Note), a.Pass-b.Pass)
	})
	for _, p := range passes {
		line("pass", string(p.Note), strconv.Itoa(p.Pass), t.Passes[p])
	}
	for _, id := range slices.Sorted(maps.Keys(t.Own)) {
		line("own", string(id), t.Own[id].Text())
	}
	for _, id := range slices.Sorted(maps.Keys(t.Fingers)) {
		line("fingers", string(id), t.Fingers[id].Key, strings.Join(t.Fingers[id].Fingers, " "))
	}
	return b.String()
}

// ParseTaste reads what [Taste.Text] writes. Lines with a word it does not
// know it leaves out: a newer program may have written them. Errors wrap
// [ErrTaste].
func ParseTaste(text string) (Taste, error) {
	var t Taste
	lines := strings.Split(strings.TrimRight(text, "\n"), "\n")
	if len(lines) > maxTaste || !strings.HasPrefix(lines[0], "decisions ") {
		return t, ErrTaste
	}
	for i, l := range lines {
		word, rest, _ := strings.Cut(l, " ")
		fields, ok := quoted(rest)
		if ok {
			ok = t.take(word, fields)
		}
		if !ok {
			return Taste{}, fmt.Errorf("%w: line %d: %.60s", ErrTaste, i+1, l)
		}
	}
	return t, nil
}

// quoted splits fields in quotation marks.
func quoted(s string) (fields []string, ok bool) {
	for s = strings.TrimLeft(s, " "); s != ""; s = strings.TrimLeft(s, " ") {
		q, err := strconv.QuotedPrefix(s)
		if err != nil {
			return nil, false
		}
		f, err := strconv.Unquote(q)
		if err != nil {
			return nil, false
		}
		fields, s = append(fields, f), s[len(q):]
	}
	return fields, true
}

// take puts one line into the taste being read; false where it makes no sense.
func (t *Taste) take(word string, f []string) bool {
	want, known := map[string]int{"decisions": 1, "tradition": 1, "prefer": 1, "tempo": 1, "rate": 1, "reach": 1,
		"always": 2, "chosen": 2, "pass": 3, "own": 2, "fingers": 3}[word]
	if !known {
		return true
	}
	if len(f) < want {
		return false
	}
	between := func(least, most float64) (float64, bool) {
		x, err := strconv.ParseFloat(f[0], 64)
		return x, err == nil && x >= least && x <= most
	}
	ok := true
	switch word {
	case "decisions":
		n, err := strconv.Atoi(f[0])
		return err == nil && n >= 1 && n <= tasteVersion
	case "tradition":
		t.Tradition = f[0]
	case "prefer":
		t.Prefer = Preference(f[0])
		ok = t.Prefer != "" && t.Prefer.Known()
	case "tempo":
		t.Tempo, ok = between(SlowestTempo, FastestTempo)
	case "rate":
		t.Rate, ok = between(SlowestRate, FastestRate)
	case "reach":
		n, err := strconv.Atoi(f[0])
		ok = err == nil && n >= leastReach && n <= mostReach
		t.Reach = n
	case "always":
		put(&t.Standing, f[0], f[1])
	case "chosen":
		put(&t.Chosen, score.ID(f[0]), f[1])
	case "pass":
		n, err := strconv.Atoi(f[1])
		if ok = err == nil && n >= 1 && n <= 100; ok {
			put(&t.Passes, InPass{score.ID(f[0]), n}, f[2])
		}
	case "own":
		own, err := ParseOwn(f[1])
		if ok = err == nil; ok {
			put(&t.Own, score.ID(f[0]), own)
		}
	case "fingers":
		put(&t.Fingers, score.ID(f[0]), Fingers{f[1], strings.Fields(f[2])})
	}
	return ok
}

func put[K comparable, V any](m *map[K]V, k K, v V) {
	if *m == nil {
		*m = map[K]V{}
	}
	(*m)[k] = v
}
