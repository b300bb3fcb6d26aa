// Command invented plays the devices of a class of invented students and
// prints, as JSON, the reports they send and what a teacher must find of them.
// The end-to-end tests of the class read it.
//
// What must be found is added up here, not by the class's own package.
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"os"

	"agremens/assets"
	"agremens/game/class"
	"agremens/game/desk"
	"agremens/game/diary"
	"agremens/game/glossary"
	"agremens/game/lesson"
	"agremens/realize"
	"agremens/realize/codec"
	"agremens/realize/codec/packet"
)

// Sent is one report, as it leaves a device.
type Sent struct {
	Student string `json:"student"`
	Week    int    `json:"week"` // 0 the earliest
	Report  string `json:"report"`
	// Last says that it is what the table must show of this task in the end.
	Days int `json:"days"` // dates in it
	// Square is the code of its link, as SVG, where it is asked for.
	Square string `json:"square,omitempty"`
}

// Found is what the table must show of a student.
type Found struct {
	Student string `json:"student"`
	Weeks   []Week `json:"weeks"` // the last of them, the oldest first
	Tasks   int    `json:"tasks"`
	// Piano is the fastest that was clean at the instrument in the latest task,
	// on its latest day that has one, beats a minute; 0 none.
	Piano int `json:"piano"`
}

// Week is a cell.
type Week struct {
	Days    int `json:"days"`
	Minutes int `json:"minutes"`
}

// names are invented, of two letters more each time: no student is meant.
func name(i int) string {
	first := []string{"Abo", "Bexi", "Cilu", "Duna", "Effo", "Figa", "Gelu", "Hilo", "Imba", "Joxa"}
	return first[i%len(first)] + " " + string(rune('A'+i/len(first)))
}

func main() {
	students := flag.Int("students", 40, "how many")
	weeks := flag.Int("weeks", 10, "of practice")
	shown := flag.Int("shown", 4, "weeks of the table")
	today := flag.Int("today", 0, "day since 1970 on which the last week ends")
	own := flag.Bool("own", false, "each week's task is another")
	whole := flag.Bool("class", false, "print the file of a class that has taken in all of it")
	squares := flag.Bool("squares", false, "with the codes of the last week's reports")
	flag.Parse()
	if err := play(*students, *weeks, *shown, *today, *own, *whole, *squares); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func play(students, weeks, shown, today int, own, whole, squares bool) error {
	var out struct {
		Reports []Sent  `json:"reports"`
		Table   []Found `json:"table"`
	}
	tasks, places, err := set()
	if err != nil {
		return err
	}
	for i := range students {
		found := Found{Student: name(i), Weeks: make([]Week, shown)}
		atPiano := map[string]int{} // by task
		d := &diary.Diary{}
		d.SetPlayer(diary.Player{Name: name(i)})
		for w := range weeks {
			if i%13 == 12 { // never sends anything, and taps nothing here
				break
			}
			task := tasks[(i+w)%len(tasks)]
			if own {
				task.Words += fmt.Sprintf(" Week %d of %s.", w+1, name(i))
			}
			found.Tasks = min(w+1, len(tasks))
			first := today + 1 - (weeks-w)*7
			sent := Sent{Student: name(i), Week: w}
			for day := range 7 {
				if (i*5+w*3+day*2)%7 > 3 && !(day == 6 && w%2 == 0) || (i+w)%9 == 8 {
					continue
				}
				seconds := 0
				for n := range 2 + (i+day)%3 {
					r := diary.Round{
						When: diary.When{Day: first + day, Minute: 900 + 4*n}, Player: name(i), Passage: lesson.DeskID(task), Title: task.Title,
						Bars: task.Bars, Kind: "tap", With: "glass", Hand: "right", Beats: float64(50 + 2*w + day), Goal: 80, Seconds: 61 + 17*i%50 + n,
						Wanted: 12, Hit: 12, Starts: []float64{float64(20 + (i*7+w*11+day*13)%60)}, Clean: (i+day+n)%3 == 0, Certain: true, Fault: "late-start", Where: places[(i+w)%len(tasks)],
					}
					if i%3 == 0 && n == 0 { // every third has a piano that is listened to
						r.Kind = "piano"
						if r.Clean {
							atPiano[r.Passage] = int(r.Beats)
						}
					}
					seconds += r.Seconds
					d.Add(r)
				}
				sent.Days++
				if at := w - (weeks - shown); at >= 0 {
					found.Weeks[at].Days++
					found.Weeks[at].Minutes += (seconds + 59) / 60
				}
			}
			found.Piano = atPiano[lesson.DeskID(task)]
			sent.Report = packet.EncodeReport(lesson.Report(d, name(i), task))
			if squares && w == weeks-1 {
				svg, err := packet.Square("https://practice.example.org/#report=" + sent.Report)
				if err != nil {
					return err
				}
				sent.Square = string(svg)
			}
			out.Reports = append(out.Reports, sent)
		}
		if found.Tasks > 0 {
			out.Table = append(out.Table, found)
		}
	}
	if whole {
		c := &class.Class{}
		for i := range out.Reports {
			c.Take("", out.Reports[i].Report, today)
		}
		_, err := os.Stdout.WriteString(class.Encode(c.Students...))
		return err
	}
	return json.NewEncoder(os.Stdout).Encode(out)
}

// set sets a task on each of the first passages, and names a place in each,
// as a report does.
func set() (tasks []packet.Task, places []string, err error) {
	for _, e := range assets.Passages()[:4] {
		score, err := codec.Open([]byte(e.ABC), "", nil)
		if err != nil {
			return nil, nil, err
		}
		d := desk.Open(e.ID, score.Passage, realize.Taste{}, nil)
		if err := d.SetBars("1-4"); err != nil {
			return nil, nil, err
		}
		t, err := lesson.Set(d, lesson.Wish{Words: "Slowly at first, and together with the left hand.", Kinds: []string{"tap", "alone"}})
		if err != nil {
			return nil, nil, err
		}
		o := &d.Reading.Ornaments[d.Inside()[0]]
		tasks = append(tasks, t)
		places = append(places, d.Passage.Measures[o.Measure].Number+" "+glossary.Of(o))
	}
	return tasks, places, nil
}
