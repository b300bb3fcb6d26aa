package realize

import (
	"slices"

	"agremens/realize/music"
	"agremens/realize/score"
)

// tone is one note of a figure before it has its time.
type tone struct {
	pitch  music.Pitch
	degree int
	tied   bool
}

// readGraces turns the small notes into tones and says how they lie.
func (pl *place) readGraces() {
	p := pl.r.p
	tones := func(list []int) []tone {
		var out []tone
		for _, g := range list {
			c := &p.Chords[g]
			if len(c.Notes) == 0 {
				continue
			}
			q := nearestNote(c, pl.pitch)
			out = append(out, tone{pitch: q, degree: q.Diatonic() - pl.pitch.Diatonic()})
		}
		return out
	}
	pl.prefixTones, pl.suffixTones = tones(pl.prefix), tones(pl.suffix)
	pl.set(suffixWritten, len(pl.suffixTones) > 0)
	pl.set(prefixWritten, len(pl.prefixTones) > 0)
	n := len(pl.prefixTones)
	if n == 0 {
		return
	}
	last := pl.prefixTones[n-1]
	pl.set(graceUpper, last.degree == 1)
	pl.set(graceLower, last.degree == -1)
	pl.set(graceSame, last.degree == 0)
	pl.set(graceLeap, last.degree > 1 || last.degree < -1)
	pl.set(graceFourth, abs(last.degree) > 2)
	pl.set(graceSlide, slides(pl.prefixTones))
	pl.set(graceTwo, n == 2)
	pl.set(graceThree, n == 3)
	pl.set(graceMany, n > 3)
	for _, g := range pl.prefix {
		pl.set(graceSlash, p.Chords[g].Grace.Slash)
	}
	pl.leanFor = p.Chords[pl.prefix[0]].Value.Quarters()
	if pl.leanFor.IsZero() {
		pl.leanFor = music.F(1, 2)
	}
	pl.set(graceShort, pl.leanFor.Cmp(music.F(1, 4)) <= 0)
	pl.set(graceTiny, pl.leanFor.Cmp(music.F(1, 8)) <= 0)
	pl.set(graceHalf, pl.leanFor.Mul(music.F(5, 2)).Cmp(pl.room) >= 0)
	pl.set(graceTooLong, pl.own.Cmp(pl.leanFor) <= 0)
	pl.set(graceFills, pl.prev != nil && n == 1 && last.degree != 0 && pl.prev.Diatonic()-pl.pitch.Diatonic() == 2*last.degree)
	pl.set(graceRepeats, pl.prev != nil && *pl.prev == pl.prefixTones[0].pitch)
}

// slides reports whether small notes are a slide: by step from the third below
// to the note below, or from there to the note above.
func slides(tones []tone) bool {
	var degrees []int
	for _, t := range tones {
		degrees = append(degrees, t.degree)
	}
	return slices.Equal(degrees, []int{-2, -1}) || slices.Equal(degrees, []int{-1, 0, 1})
}

// nearestNote returns the note of a small chord that leads to a pitch.
func nearestNote(c *score.Chord, to music.Pitch) music.Pitch {
	best, least := c.Top().Pitch, 1<<20
	for j := len(c.Notes) - 1; j >= 0; j-- {
		d := c.Notes[j].Pitch.Diatonic() - to.Diatonic()
		if d < 0 {
			d = -d
		}
		if d < least {
			best, least = c.Notes[j].Pitch, d
		}
	}
	return best
}
