package realize

import "fmt"

// warnings says what a player should know before taking a choice.
func (pl *place) warnings(sh *shape, c *Choice) []string {
	var out []string
	if sh.time == shake && c.NotesPerSecond > pl.r.rate*1.05 {
		out = append(out, fmt.Sprintf("%.1f notes a second at the goal tempo; your rate is %.0f", c.NotesPerSecond, pl.r.rate))
	}
	return out
}
