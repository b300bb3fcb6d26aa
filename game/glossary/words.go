package glossary

import (
	"strings"

	"agremens/realize"
	"agremens/realize/words"
)

// NamesIn lists the sign's names in one language with whose they are where
// they are not everybody's; a tick says that the name was read there:
// "Triller; Trillo (J.S. Bach, Explication, 1720 ✓)".
func (e *Entry) NamesIn(l Language, c *words.Catalogue) string {
	var parts []string
	for _, n := range e.Names[l] {
		parts = append(parts, n.Text+n.known(c))
	}
	return strings.Join(parts, "; ")
}

func (n Name) known(c *words.Catalogue) string {
	switch {
	case n.Of == "":
		return ""
	case n.Status == realize.StatusRead:
		return " (" + c.Say(n.Of) + " ✓)"
	}
	return " (" + c.Say(n.Of) + ")"
}

// Who names the traditions that play a sign one way.
func (w Way) Who(c *words.Catalogue) string {
	if len(w.Traditions) == len(realize.Traditions()) {
		return c.Say("In every tradition here")
	}
	return strings.Join(w.Traditions, "; ")
}

// plainLetters writes a name as it is typed on any keyboard.
var plainLetters = strings.NewReplacer("é", "e", "è", "e", "ê", "e", "à", "a", "ç", "c", "ä", "a", "ö", "o", "ü", "u", "’", "'")

func folded(text string) string {
	return plainLetters.Replace(strings.ToLower(strings.TrimSpace(text)))
}

// Called returns the entries one of whose names, in any language, holds the
// text; capitals and accents make no difference. All of them where it is empty.
func Called(text string) []Entry {
	wanted := folded(text)
	var found []Entry
	for _, e := range entries {
		for _, l := range Languages() {
			if strings.Contains(folded(e.NamesIn(l, nil)), wanted) {
				found = append(found, e)
				break
			}
		}
	}
	return found
}
