package realize

import (
	"strings"
	"unicode"

	"agremens/realize/score"
	"agremens/realize/words"
)

// TraditionInfo names a tradition for a menu.
type TraditionInfo struct{ Key, Name, Years string }

// tradition is a practice as data: what each figure becomes in which context
// and on whose word. Adding one means adding a file like tradition_bach.go
// and its line in traditions.
type tradition struct {
	key, name, years string
	from, to         int // years it is the default for, composer unknown
	// composers name, in lower case, whose music defaults to it.
	composers []string
	// names are the period's own words for the figures, for the reasons.
	names map[figure]string
	rules []rule
	// early: one printed value stands for all small notes, and the rule decides.
	early bool
	// slashDoubtful: a stroke through a small note says little.
	slashDoubtful bool
	// raises says which figures take the lower neighbour a semitone below
	// where the scale has a whole tone (not on the third and seventh degrees).
	raises lowerHabit
}

// lowerHabit is a tradition's custom for the lower neighbour.
type lowerHabit int8

const (
	diatonicLower lowerHabit = iota // by the scale
	raisedInTurns                   // turns take a semitone
	raisedAll                       // and mordents and trill endings
)

// rule says what a figure becomes where its facts hold. Among the rules that
// match, the highest weight comes first.
type rule struct {
	figures []figure
	shape   string
	when    []fact
	unless  []fact
	weight  int
	// why is the reason, at most forty words; {0}, {+1}, {-1}, {prev}, {next},
	// {bass} and {against} are filled in. The text is a key of the catalogue.
	why  string
	from []string // keys of sources
}

var traditions = []*tradition{&english, &french, &bach, &berlin, &vienna, &london, &romantic, &chopin}

// Traditions lists the traditions in order of time, in English.
func Traditions() []TraditionInfo { return TraditionsIn(nil) }

// TraditionsIn is [Traditions] in a language's words.
func TraditionsIn(c *words.Catalogue) []TraditionInfo {
	out := make([]TraditionInfo, len(traditions))
	for i, t := range traditions {
		out[i] = TraditionInfo{t.key, c.Say(t.name), c.Say(t.years)}
	}
	return out
}

// chooseTradition follows the user, else composer and year, else the default,
// and asks.
func chooseTradition(p *score.Passage, taste *Taste, out *Reading) *tradition {
	key, c := taste.Tradition, taste.Words
	for _, t := range traditions {
		if t.key == key {
			return t
		}
	}
	if key != "" {
		out.Warnings = append(out.Warnings, c.Say("there is no tradition \"{key}\"; composer and date decide", "{key}", key))
	}
	if best := traditionOf(heading(p)); best != nil {
		if who, near := unsettled(heading(p)); near != nil {
			best = near
			out.Questions = append(out.Questions, Question{
				About:   AboutTradition,
				Options: traditionOptions(best, c),
				Text:    c.Say("No table of ornaments by {composer} is known here; a practice near in time and place is taken. Whose should it follow?", "{composer}", who),
				Assumed: c.Say(best.name),
			})
			return best
		}
		return laterOf(best, p.Year)
	}
	if p.Year > 0 {
		for _, t := range traditions {
			if t.from <= p.Year && p.Year <= t.to {
				return t
			}
		}
	}
	t := &vienna
	if p.Year > 0 && p.Year < bach.from {
		t = &bach // French, English or German: the score does not say
	}
	out.Questions = append(out.Questions, Question{
		About:   AboutTradition,
		Options: traditionOptions(t, c),
		Text:    c.Say("The score gives no composer or date. Which tradition should its ornaments follow?"),
		Assumed: c.Say(t.name),
	})
	return t
}

// between are composers who stand between the traditions: nothing here comes
// from them, so the practice nearest to them is taken and asked about. From
// memory.
var between = []struct {
	name string // in lower case, as in a heading
	said string
	near *tradition
}{
	{"handel", "Handel", &bach}, {"händel", "Händel", &bach}, {"haendel", "Händel", &bach},
	{"scarlatti", "Scarlatti", &bach}, {"soler", "Soler", &vienna},
	{"arne", "Arne", &bach}, {"greene", "Greene", &bach}, {"boyce", "Boyce", &bach}, {"stanley", "Stanley", &bach},
	{"johann christian bach", "J. C. Bach", &vienna}, {"j. c. bach", "J. C. Bach", &vienna}, {"j.c. bach", "J. C. Bach", &vienna},
	{"wilhelm friedemann", "W. F. Bach", &berlin}, {"w. f. bach", "W. F. Bach", &berlin}, {"w.f. bach", "W. F. Bach", &berlin},
	{"field", "Field", &romantic},
}

// unsettled finds such a composer in a heading; nil where there is none.
func unsettled(who string) (said string, near *tradition) {
	for i := range between {
		if strings.Contains(who, " "+between[i].name+" ") {
			return between[i].said, between[i].near
		}
	}
	return "", nil
}

// traditionOf follows the longest composer's name in a heading; nil if none.
func traditionOf(who string) *tradition {
	best, length := (*tradition)(nil), 0
	for _, t := range traditions {
		for _, name := range t.composers {
			if len(name) > length && strings.Contains(who, " "+name+" ") {
				best, length = t, len(name)
			}
		}
	}
	return best
}

// firstLine is how many measures may stand below the heading.
const firstLine = 6

// heading is what the head of a score says about its composer: the field for
// it, or the words over the first line, where many files put the name, and the
// title. Words stand apart by single spaces, in lower case.
func heading(p *score.Passage) string {
	text := p.Composer
	if text == "" && len(p.Measures) > 0 {
		end := p.Measures[min(firstLine, len(p.Measures))-1].End()
		for i := range p.Marks {
			if m := &p.Marks[i]; m.Kind == score.Words && m.Onset.Less(end) {
				text += " " + m.Text
			}
		}
		text += " " + p.Title
	}
	words := strings.FieldsFunc(strings.ToLower(text), func(c rune) bool { return !unicode.IsLetter(c) && c != '.' && c != '\'' })
	for i, w := range words {
		if len(w) > 3 && strings.Count(w, ".") == 1 {
			words[i] = strings.TrimSuffix(w, ".") // the end of a sentence
		}
	}
	return " " + strings.Join(words, " ") + " "
}

// laterOf moves on to the next practice where a composer's late years ask for
// it: from middle Beethoven on a trill starts on the main note. Common
// practice; the sources for c. 1800 disagree.
func laterOf(t *tradition, year int) *tradition {
	if t == &vienna && year >= 1805 {
		return &romantic
	}
	return t
}
