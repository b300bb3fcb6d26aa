package lesson

import (
	"math"

	"agremens/game/diary"
	"agremens/realize/codec/packet"
)

// Report sums up what one player did with a task. Only sums leave the device.
func Report(d *diary.Diary, player string, t packet.Task) packet.Report {
	p := d.Progress(player, DeskID(t))
	r := packet.Report{Name: player, Task: t.ID(), Title: t.Title, Bars: t.Bars, Fault: p.Fault, Packed: packet.EncodeTask(t)}
	days := map[string]int{}
	day := func(w diary.When) *packet.Day {
		date := w.Date()
		i, ok := days[date]
		if !ok {
			i = len(r.Days)
			days[date] = i
			r.Days = append(r.Days, packet.Day{Date: date})
		}
		return &r.Days[i]
	}
	for _, line := range p.Last {
		out := day(line.When)
		out.Tapped, out.Rounds, out.Clean = line.Minutes, line.Rounds, line.Clean
		if c := line.Cold; c != nil {
			out.ColdTempo, out.ColdLate, out.ColdClean = math.Round(c.Beats), math.Round(mean(c.Starts)), c.Clean
			r.Goal = math.Round(c.Goal)
			out.Reached = math.Round(line.Best * c.Goal)
		}
	}
	own := d.Of(player)
	for _, piano := range own.Pianos {
		if piano.Passage == DeskID(t) {
			day(piano.When).Piano += piano.Minutes
		}
	}
	for _, round := range own.Rounds {
		if round.Passage == DeskID(t) && round.Unaided && !round.Void {
			r.Unaided++
			if round.Clean {
				r.CleanUnaided++
			}
		}
	}
	sortDays(r.Days)
	return r
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
