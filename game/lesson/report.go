package lesson

import (
	"math"

	"agremens/game/diary"
	"agremens/realize/codec/packet"
)

// Report sums up what one player did with a task. Only sums leave the device.
func Report(d *diary.Diary, player string, t packet.Task) packet.Report {
	p := d.Progress(player, DeskID(t))
	r := packet.Report{Name: player, Task: t.ID(), Title: t.Title, Bars: t.Bars, Fault: p.Fault, Where: p.Where, Packed: packet.EncodeTask(t)}
	r.Days, r.Goal = Days(d, player, DeskID(t))
	r.Unaided, r.CleanUnaided = Unaided(d, player, DeskID(t))
	return r
}

// Unaided counts a player's rounds of a passage without clicks and moving line,
// and the clean ones among them.
func Unaided(d *diary.Diary, player, passage string) (n, clean int) {
	for i := range d.Rounds {
		if r := &d.Rounds[i]; r.Player == player && r.Passage == passage && r.Unaided && !r.Void {
			n++
			if r.Clean {
				clean++
			}
		}
	}
	return n, clean
}

// Days sums up each day on which a player practised a passage, the oldest
// first; goal is the latest round's, in felt beats a minute, 0 none.
func Days(d *diary.Diary, player, passage string) (all []packet.Day, goal float64) {
	days := map[string]int{}
	day := func(w diary.When) *packet.Day {
		date := w.Date()
		i, ok := days[date]
		if !ok {
			i = len(all)
			days[date] = i
			all = append(all, packet.Day{Date: date})
		}
		return &all[i]
	}
	for _, line := range d.Progress(player, passage).Last {
		out := day(line.When)
		out.Tapped, out.Rounds, out.Clean = line.Minutes, line.Rounds, line.Clean
		if c := line.Cold; c != nil {
			out.ColdTempo, out.ColdLate, out.ColdClean = math.Round(c.Beats), math.Round(mean(c.Starts)), c.Clean
			goal = math.Round(c.Goal)
			out.Reached = math.Round(line.Best * c.Goal)
		}
	}
	for _, r := range d.Rounds {
		if r.AtInstrument() && r.Clean && !r.Void && !r.Plain && r.Player == player && r.Passage == passage {
			out := day(r.When)
			out.Played = max(out.Played, math.Round(r.Beats))
		}
	}
	for _, piano := range d.Pianos {
		if piano.Player == player && piano.Passage == passage {
			day(piano.When).Piano += piano.Minutes
		}
	}
	sortDays(all)
	return all, goal
}

func mean(all []float64) float64 {
	if len(all) == 0 {
		return 0
	}
	sum := 0.0
	for _, v := range all {
		sum += v
	}
	return sum / float64(len(all))
}
