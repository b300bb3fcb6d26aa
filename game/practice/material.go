package practice

import (
	"agremens/game/glossary"
	"agremens/game/round"
	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
)

// Material is what lies on the desk when a session begins.
type Material struct {
	ID, Title string // of the passage, for the record
	Bars      string // as printed
	Passage   *score.Passage
	Reading   *realize.Reading
	// Settings are those of a tapping round as the player has set them.
	Settings round.Settings
	// Plain says that the player has switched the ornaments off.
	Plain bool
	// Selected is the id of the ornament in hand, "" for none.
	Selected string
	Goal     float64 // felt beats a minute at 100 %
	Rate     float64 // notes a second that the player can manage
	Prefer   realize.Preference
	Names    []string
	Naming   music.Naming // how words call the notes
	// Seed decides what is asked by ear: the same seed asks the same.
	Seed uint64
	// Heard says that what is played at the piano is listened to.
	Heard bool
	// Meanwhile is what sounds then.
	Meanwhile Meanwhile
	// Lead is the player's calibrated lead, ms, nil unknown.
	Lead *float64
}

// Meanwhile is what the page sounds while it listens to an instrument.
type Meanwhile int8

// What sounds meanwhile.
const (
	Silence Meanwhile = iota
	TheBeat
	TheBeatAndHand // the hand that is not tapped, too
)

// inside returns the ornaments in the chosen measures.
func (m *Material) inside() []*realize.Ornament {
	var out []*realize.Ornament
	for i := range m.Reading.Ornaments {
		o := &m.Reading.Ornaments[i]
		if o.Measure >= m.Settings.From && o.Measure < m.Settings.To && len(o.Choices) > 0 {
			out = append(out, o)
		}
	}
	return out
}

// ornament returns the ornament in hand, else the first in the chosen measures.
func (m *Material) ornament() (*realize.Ornament, bool) {
	inside := m.inside()
	for _, o := range inside {
		if o.ID == m.Selected {
			return o, true
		}
	}
	if len(inside) == 0 {
		return nil, false
	}
	return inside[0], true
}

// where names an ornament by its printed bar and its sign, "5 trill"; "" for
// one that is not in the chosen measures. Where these hold only one, all that is
// said of all is said of it.
func (m *Material) where(id string) string {
	inside := m.inside()
	for _, o := range inside {
		if o.ID == id || id == "" && len(inside) == 1 {
			if sign := glossary.Of(o); sign != "" {
				return m.Passage.Measures[o.Measure].Number + " " + sign
			}
		}
	}
	return ""
}

// aroundMeasures is how many measures stand around an ornament: enough plain
// notes to know the player's lead, and short enough to come again and again.
const aroundMeasures = 4

// around returns the chosen measures near an ornament, with one before it
// where there is one.
func (m *Material) around(o *realize.Ornament) (from, to int) {
	from = max(m.Settings.From, o.Measure-1)
	to = min(m.Settings.To, from+aroundMeasures)
	return max(m.Settings.From, to-aroundMeasures), to
}

// tempo returns the practice tempo in felt beats a minute of settings.
func (m *Material) tempo(s round.Settings) float64 {
	percent := s.Percent
	if percent == 0 {
		percent = 100
	}
	return m.Goal * percent / 100
}

func handOf(o *realize.Ornament) round.Hands {
	if o.Staff == 2 {
		return round.LeftHand
	}
	return round.RightHand
}

func chosen(o *realize.Ornament) *realize.Choice { return &o.Choices[o.Chosen] }

// names gives each ornament's name in the terms of the trade by its id.
func names(r *realize.Reading) map[string]string {
	out := map[string]string{}
	for i := range r.Ornaments {
		if o := &r.Ornaments[i]; len(o.Choices) > 0 {
			out[o.ID] = chosen(o).Name
		}
	}
	return out
}

// metre is that of an ornament's measure.
func (m *Material) metre(measure int) music.Metre { return m.Passage.Measures[measure].Metre }

func (m *Material) sounding(r *realize.Reading, plain bool) *perf.Performance {
	return realize.Perform(r, realize.PerformOptions{Plain: plain})
}

// choose returns a number below n by the seed, another for each k.
func (m *Material) choose(n, k int) int {
	// splitmix64 (Steele, Lea, Flood 2014, from memory).
	z := m.Seed + uint64(k+1)*0x9e3779b97f4a7c15
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return int((z ^ z>>31) % uint64(n))
}
