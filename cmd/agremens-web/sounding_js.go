package main

import (
	"agremens/game/engrave"
	"agremens/realize/perf"
)

// soundingSpot is a spot of the layout and when it sounds, in quarters of the
// way through the piece.
type soundingSpot struct {
	from, until float64
	spot        engrave.Spot
}

// prepare collects what changes while the run sounds.
func (s *staff) prepare() {
	c, d := &s.camera, s.host.OnDesk()
	c.sounds = c.sounds[:0]
	spots := map[string][]engrave.Spot{}
	for _, spot := range s.layout.Spots {
		key := string(spot.Note)
		if spot.Ornament != "" && spot.Index >= 0 {
			key = spot.Ornament
		}
		spots[key] = append(spots[key], spot)
	}
	c.sounded = s.performance()
	for _, n := range c.sounded.Notes {
		from, until := n.Onset.Float(), n.End().Float()
		for _, spot := range spots[string(n.From)] {
			if n.Ornament == "" || n.Index == 0 {
				c.sounds = append(c.sounds, soundingSpot{from, until, spot})
			}
		}
		if n.Ornament != "" {
			for _, spot := range spots[n.Ornament] {
				if spot.Index == n.Index {
					c.sounds = append(c.sounds, soundingSpot{from, until, spot})
				}
			}
		}
	}
	c.bars, c.beats = c.bars[:0], c.beats[:0]
	for m := d.From; m < d.To; m++ {
		c.bars = append(c.bars, d.Passage.Measures[m].Onset.Float())
	}
	c.bars = append(c.bars, s.layout.Systems[0].End)
	for _, b := range d.Sounding().Beats {
		c.beats = append(c.beats, b.Onset.Float())
	}
}

// performance is what sounds: along the repeats, where a round plays them, and
// as it is heard where one only listens.
func (s *staff) performance() *perf.Performance {
	if r := s.rounds.Round; r != nil && r.Plan().Settings.Legs > 0 {
		return r.Plan().Sounding
	}
	if s.rounds.Round != nil && s.rounds.Session == nil && !s.rounds.Tapping() {
		return s.host.OnDesk().Heard()
	}
	return s.host.OnDesk().Sounding()
}

// sounding returns the spots that sound at a place in quarters.
func (c *camera) sounding(q float64) []engrave.Spot {
	c.now = c.now[:0]
	for i := range c.sounds {
		if s := &c.sounds[i]; s.from <= q && q < s.until {
			c.now = append(c.now, s.spot)
		}
	}
	return c.now
}
