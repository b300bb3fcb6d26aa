package realize

import (
	"slices"
	"strconv"

	"agremens/realize/music"
	"agremens/realize/score"
)

// Habits is how many habits of pianists there are.
func Habits() int { return len(habits) }

// HabitWords says what habit i is: for whom, of which figure, where, what.
func HabitWords(i int) (figure, text, stands string) {
	h := &habits[i]
	return figureKeys[h.figures[0]], h.figure, []string{"", "the sources decide", "by the report on all recordings", "offered"}[h.stands]
}

// HabitPlace is an ornament with the habits that hold at its place.
type HabitPlace struct {
	Note  score.ID
	Signs []string
	Room  music.Frac
	Grace bool
	// Asked are the habits that hold, the closest first.
	Asked []int
	// Played are the notes of each shape a candidate has, Usual the key of the
	// first one by the sources.
	Played map[string][]Note
	Usual  string
}

// First is the shape that leads when one habit is left out; -1 for none.
func (p *HabitPlace) First(out int) string {
	for _, i := range p.Asked {
		if i == out {
			continue
		}
		for _, key := range habits[i].shapes {
			if _, stands := p.Played[key]; stands {
				return key
			}
		}
	}
	return p.Usual
}

// HabitPlaces reads a passage as [Read] does, for what habits hold where.
func HabitPlaces(p *score.Passage) []HabitPlace {
	taste := Taste{Prefer: "performers"}
	r := newReader(p, taste, &Reading{Passage: p})
	var places []HabitPlace
	sites := gather(p, r.l)
	for i := range sites {
		pl := r.look(&sites[i])
		place := HabitPlace{Note: pl.note.ID, Signs: signNames(pl), Room: pl.room, Played: map[string][]Note{},
			Grace: pl.figure == graceFigure || pl.figure == graceGroupFigure}
		for k := range habits {
			if habits[k].holds(pl) {
				place.Asked = append(place.Asked, k)
			}
		}
		for _, c := range r.candidates(pl) {
			choice, stands := r.realize(pl, c)
			if !stands || c.other {
				continue
			}
			if place.Usual == "" {
				place.Usual = c.key
			}
			place.Played[c.key] = slices.DeleteFunc(choice.Notes, func(n Note) bool { return n.Tied })
		}
		places = append(places, place)
	}
	return places
}

// Guess is what a tempo is guessed from, and the guess, with what the score
// prints left out.
func Guess(p *score.Passage) (asked, paces int, onsets, quarters float64) {
	word, _ := asksFor(p)
	quarters, _ = assumedTempo(p, nil)
	return int(word), len(speedOf), busiest(p), quarters
}

// UsualNames are, by ornament, the names of the choices that the rules put
// first, whatever fault they make against another voice.
func UsualNames(p *score.Passage) map[string]string {
	r := newReader(p, Taste{}, &Reading{Passage: p})
	names := map[string]string{}
	sites := gather(p, r.l)
	for i := range sites {
		pl := r.look(&sites[i])
		for _, c := range r.candidates(pl) {
			if choice, stands := r.realize(pl, c); stands {
				names["o"+strconv.Itoa(i+1)] = choice.Name
				break
			}
		}
	}
	return names
}
