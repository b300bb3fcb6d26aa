package musicxml

import (
	"strings"
	"unicode"

	"agremens/realize/score"
)

// Tempos outside these bounds, in quarters a minute, are mistakes.
const (
	minTempo = 4
	maxTempo = 1000
)

func (d *direction) readTempo(e element) {
	if q := atof(e.attr("tempo"), minTempo, maxTempo); q > 0 {
		d.tempo.QuartersPerMinute, d.sound = q, true
	}
}

// readMetronome reads a printed mark: a note value and beats a minute. A
// mark that equates two note values says nothing about speed and is passed over.
func (p *part) readMetronome(d *direction) error {
	units := 0
	beat, perMinute := score.Value{}, 0.0
	err := p.r.each(func(e element) error {
		switch e.name {
		case "beat-unit":
			s, err := p.r.text()
			if units++; units == 1 {
				beat.Type = valueTypes[s]
			}
			return err
		case "beat-unit-dot":
			if units == 1 && beat.Dots < maxDots {
				beat.Dots++
			}
		case "per-minute":
			s, err := p.r.text()
			perMinute = firstNumber(s)
			return err
		}
		return nil
	})
	if err == nil && units == 1 && beat.Type != score.Unspecified && perMinute > 0 {
		d.tempo.Beat, d.tempo.PerMinute, d.number = beat, perMinute, true
	}
	return err
}

// firstNumber finds the number in "ca. 96" or "100-108".
func firstNumber(s string) float64 {
	i := strings.IndexFunc(s, unicode.IsDigit)
	if i < 0 {
		return 0
	}
	s = s[i:]
	if j := strings.IndexFunc(s, func(r rune) bool { return !unicode.IsDigit(r) && r != '.' }); j >= 0 {
		s = s[:j]
	}
	return atof(strings.TrimSuffix(s, "."), minTempo, maxTempo)
}

// tempoWords open a tempo heading: common practice, no source. Words that
// also stand inside a phrase (ritardando, dolce) are not among them.
var tempoWords = map[string]bool{
	"grave": true, "largo": true, "larghetto": true, "lento": true, "adagio": true, "adagietto": true,
	"andante": true, "andantino": true, "moderato": true, "allegretto": true, "allegro": true,
	"vivace": true, "vivo": true, "presto": true, "prestissimo": true, "maestoso": true,
	"tempo": true, "menuetto": true, "minuetto": true, "menuet": true, "siciliano": true,
	"langsam": true, "mäßig": true, "mässig": true, "bewegt": true, "schnell": true, "lebhaft": true,
	"lent": true, "lentement": true, "modéré": true, "gay": true, "gayement": true, "vif": true,
	"vite": true, "vivement": true, "gracieusement": true, "tendrement": true, "slow": true, "fast": true,
}

func tempoWord(words string) bool {
	first, _, _ := strings.Cut(strings.ToLower(words), " ")
	first = strings.TrimFunc(first, func(r rune) bool { return !unicode.IsLetter(r) })
	return tempoWords[first] || strings.HasPrefix(strings.ToLower(words), "un poco") || strings.HasPrefix(strings.ToLower(words), "poco adagio")
}
