package keep_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"agremens/game/class"
	"agremens/game/diary"
	"agremens/game/keep"
	"agremens/realize/codec/packet"
)

// year is so many weekly reports, each on a task of its own.
const year = 50

// aYear fills a store with a class after a year: one student's, and others who
// differ from her in their names.
func aYear(b *testing.B, students int) *store {
	b.Helper()
	var score strings.Builder // of the length of four bars of one of our passages
	for i := range 9 {
		score.WriteString([]string{"[V:1] !trill!c2 d2 e2 f2 |", "[V:2] C,4 G,4 |", "!mordent!g a b c' |"}[i%3])
	}
	s := newStore(1 << 30)
	require.NoError(b, keep.OpenStudents(s, today).Change(func(c *class.Class) {
		for week := range year {
			task := packet.Task{Title: "Air " + strconv.Itoa(week%9), Bars: "1-4", Goal: 80, Score: "X:1\nK:C\n" + score.String(), Words: "Week " + strconv.Itoa(week), Kinds: []string{"tap", "alone"}}
			r := packet.Report{Name: "Student 0", Task: task.ID(), Title: task.Title, Bars: task.Bars, Goal: 80, Fault: "late-start", Unaided: 5, CleanUnaided: 2, Packed: packet.EncodeTask(task)}
			for day := range 5 {
				r.Days = append(r.Days, packet.Day{Date: diary.When{Day: today - 7*(year-week) + day}.Date(), Tapped: 8, Piano: 5, Rounds: 6, Clean: 2, ColdTempo: float64(50 + week/2), ColdLate: float64(20 + day), Reached: float64(55 + week/2)})
			}
			c.Take("", packet.EncodeReport(r), today)
		}
	}))
	const key = "agremens.class.student "
	first := s.texts[key+"0"]
	for i := 1; i < students; i++ {
		s.texts[key+strconv.Itoa(i)] = strings.Replace(first, "\tStudent 0\t", "\tStudent "+strconv.Itoa(i)+"\t", 1)
	}
	require.Len(b, keep.OpenStudents(s, today).Class().Students, students)
	return s
}

func BenchmarkOpen(b *testing.B) {
	for _, students := range []int{10, 40, 160} {
		b.Run(strconv.Itoa(students)+" students", func(b *testing.B) {
			s := aYear(b, students)
			size := 0
			for key, text := range s.texts {
				size += len(key) + len(text)
			}
			for b.Loop() {
				rows := keep.OpenStudents(s, today).Class().Table(today, 4)
				class.Arrange(rows, class.ByLook, class.Filter{})
			}
			b.ReportMetric(float64(size)/float64(students*year), "B/report")
		})
	}
}

// One more report, on a class that is open.
func BenchmarkTake(b *testing.B) {
	for _, students := range []int{10, 40, 160} {
		b.Run(strconv.Itoa(students)+" students", func(b *testing.B) {
			k := keep.OpenStudents(aYear(b, students), today)
			k.Class()
			n := 0
			for b.Loop() {
				n++
				letters := report("Student 3", "t"+strconv.Itoa(n), 5)
				if err := k.Change(func(c *class.Class) { c.Take("", letters, today) }); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
