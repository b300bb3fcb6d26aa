package music

// Naming is how notes are called in words. Common practice in the countries
// concerned; no published source.
type Naming int8

const (
	// EnglishNames are letters with accidentals: B♭, F♯.
	EnglishNames Naming = iota
	// GermanNames are letters with endings: B is a flat H; Fis, Es.
	GermanNames
	// SolfegeNames are syllables with accidentals, do being C: si♭, fa♯.
	SolfegeNames
)

// Namings returns all of them.
func Namings() []Naming { return []Naming{EnglishNames, GermanNames, SolfegeNames} }

var namingKeys = [...]string{"english", "german", "solfege"}

// Key returns the naming's word in what is kept.
func (n Naming) Key() string { return namingKeys[n] }

// NamingOf returns the naming of a key; English is also what is not known.
func NamingOf(key string) Naming {
	for i, k := range namingKeys {
		if k == key {
			return Naming(i)
		}
	}
	return EnglishNames
}

var (
	germanSteps  = [7]string{"C", "D", "E", "F", "G", "A", "H"}
	solfegeSteps = [7]string{"do", "re", "mi", "fa", "sol", "la", "si"}
	// accidentals from double flat to double sharp
	accidentals = [5]string{"♭♭", "♭", "", "♯", "×"}
	endings     = [5]string{"eses", "es", "", "is", "isis"}
)

// Name returns a pitch's name without the octave. An alteration of more than
// two half steps is left out.
func (n Naming) Name(p Pitch) string {
	i := int(p.Alter) + 2
	if i < 0 || i >= len(accidentals) {
		i = 2
	}
	switch n {
	case SolfegeNames:
		return solfegeSteps[p.Step] + accidentals[i]
	case GermanNames:
		return german(p.Step, i)
	}
	return p.Step.String() + accidentals[i]
}

// german joins a letter and its ending; a vowel swallows the ending's own.
func german(s Step, i int) string {
	name := germanSteps[s]
	switch {
	case i == 1 && s == B:
		return "B"
	case i < 2 && (s == E || s == A):
		return name + endings[i][1:]
	}
	return name + endings[i]
}
