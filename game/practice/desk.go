package practice

import (
	"agremens/game/desk"
)

// On returns what lies on a desk as the material of a session.
func On(d *desk.Desk) Material {
	m := Material{
		ID: d.ID, Title: d.Passage.Title, Bars: d.Bars(), Passage: d.Passage, Reading: d.Reading,
		Settings: d.Round(true), Plain: !d.Ornaments, Goal: d.Goal(), Rate: d.Rate(), Prefer: d.Taste.Prefer, Naming: d.Naming,
	}
	if o, ok := d.Ornament(); ok {
		m.Selected = o.ID
	}
	return m
}
