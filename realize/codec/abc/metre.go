package abc

import (
	"strconv"
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
)

func (p *parser) metreField(text string, at place) error {
	metre, ok := parseMetre(text)
	if !ok {
		return at.fail(`"{text}" is not a time signature`, "write M:3/4, M:C or M:C|", "{text}", text)
	}
	if !p.body {
		p.metre = metre
		return nil
	}
	if p.common() {
		p.metre = metre
	}
	p.eachVoice(func(v *voice) {
		v.metre = metre
		switch {
		case v.begun():
			p.warn(at, "a change of time signature inside a bar takes effect from the next bar; put a bar line before it")
		case v.bar != nil:
			v.bar.metre = metre
		}
	})
	return nil
}

// parseMetre reads "3/4", "C", "C|", "2+3/8", "(2+2+3)/8" and "none".
func parseMetre(text string) (music.Metre, bool) {
	switch text {
	case "C":
		return music.Metre{Beats: 4, Unit: 4, Symbol: music.CommonTime}, true
	case "C|":
		return music.Metre{Beats: 2, Unit: 2, Symbol: music.CutTime}, true
	case "none", "":
		return music.Metre{}, true
	}
	over, under, ok := strings.Cut(text, "/")
	unit, err := strconv.Atoi(strings.TrimSpace(under))
	if !ok || err != nil || unit < 1 || unit > 64 || unit&(unit-1) != 0 {
		return music.Metre{}, false
	}
	beats := 0
	for part := range strings.SplitSeq(strings.Trim(strings.TrimSpace(over), "()"), "+") {
		n, err := strconv.Atoi(strings.TrimSpace(part))
		if err != nil || n < 1 || n > 64 {
			return music.Metre{}, false
		}
		beats += n
	}
	return music.Metre{Beats: beats, Unit: unit}, beats <= 64
}

// parseUnit reads the fraction of an L: field and returns it in quarters.
func parseUnit(text string, at place) (music.Frac, error) {
	f, err := music.ParseFrac(strings.ReplaceAll(text, " ", ""))
	if err != nil || f.Sign() <= 0 || music.Int(1).Less(f) || f.Den() > 64 || f.Den()&(f.Den()-1) != 0 {
		return music.Frac{}, at.fail(`"{text}" is not a unit note length`, "write L:1/8 or L:1/16", "{text}", text)
	}
	return f.Mul(music.Int(4)), nil
}

// parseTempo reads "1/4=120", "Allegro" in quotes, both, or a bare number.
func (p *parser) parseTempo(text string, at place) (*score.Tempo, error) {
	tempo := &score.Tempo{}
	for {
		before, rest, ok := strings.Cut(text, "\"")
		if !ok {
			break
		}
		words, after, closed := strings.Cut(rest, "\"")
		if !closed {
			return nil, at.fail("the words of the tempo have no closing quotation mark", `write Q:"Andante" 1/4=72`)
		}
		tempo.Text = strings.TrimSpace(words)
		text = before + " " + after
	}
	text = strings.TrimSpace(text)
	if text == "" {
		return tempo, nil
	}
	text = p.oldTempo(text)
	beats, perMinute, ok := strings.Cut(text, "=")
	if !ok {
		beats, perMinute = "1/4", text
	}
	n, err := strconv.ParseFloat(strings.TrimSpace(perMinute), 64)
	if err != nil || !(n >= 1 && n <= 1000) {
		return nil, at.fail(`"{text}" is not a tempo`, "write Q:1/4=72", "{text}", text)
	}
	var sum music.Frac
	for _, b := range strings.Fields(beats) {
		f, err := music.ParseFrac(b)
		if err != nil || f.Sign() <= 0 || !f.Bounded(64) {
			return nil, at.fail(`"{text}" is not a tempo`, "write Q:1/4=72", "{text}", text)
		}
		sum = sum.Add(f.Mul(music.Int(4)))
		if !sum.Bounded(1024) {
			return nil, at.fail(`"{text}" is not a tempo`, "write Q:1/4=72", "{text}", text)
		}
	}
	if sum.Sign() == 0 {
		return nil, at.fail(`"{text}" is not a tempo`, "write Q:1/4=72", "{text}", text)
	}
	tempo.QuartersPerMinute = n * sum.Float()
	if q := tempo.QuartersPerMinute; q < 1 || q > 1000 {
		return nil, at.fail(`"{text}" is not a tempo`, "write Q:1/4=72", "{text}", text)
	}
	v, ok := valueOf(sum)
	if !ok {
		v, n = score.Value{Type: score.Quarter}, tempo.QuartersPerMinute
	}
	tempo.Beat, tempo.PerMinute = v, n
	return tempo, nil
}
