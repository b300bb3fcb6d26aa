package class_test

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/game/class"
	"agremens/game/diary"
	"agremens/realize/codec/packet"
)

// today is Wednesday, 25 November 2026.
const today = 20782

func TestTodayIsAWednesday(t *testing.T) {
	assert.Equal(t, "2026-11-25", diary.When{Day: today}.Date())
	assert.Equal(t, 3, class.Weekday(today)) // a calendar of 2026
	assert.Equal(t, 4, class.Weekday(0))     // 1 January 1970 was a Thursday
}

func day(ago int, more packet.Day) packet.Day {
	more.Date = diary.When{Day: today - ago}.Date()
	return more
}

func report(name, task string, days ...packet.Day) string {
	return packet.EncodeReport(packet.Report{Name: name, Task: task, Title: "Minuet", Bars: "1-4", Goal: 80, Fault: "late-start", Days: days})
}

func TestEverythingThatComesIsTakenOrNamed(t *testing.T) {
	cold := packet.Day{Tapped: 5, Rounds: 3, ColdTempo: 60, ColdLate: 70}
	first := report("Ana", "one", day(2, cold))
	longer := cold
	longer.Tapped, longer.Rounds = 12, 7
	other := packet.Day{Tapped: 4, Rounds: 2, ColdTempo: 66, ColdLate: 20}
	cases := []struct {
		name    string
		letters string
		outcome class.Outcome
		fresh   bool
		days    int
		// What Ana has afterwards: tasks, minutes of the first task's first day.
		works, minutes int
	}{
		{"the same again", first, class.Again, false, 0, 1, 5},
		{"the same day, told later by the same device", report("Ana", "one", day(2, longer)), class.Taken, false, 0, 1, 12},
		{"the same day on another device", report("Ana", "one", day(2, other)), class.Taken, false, 0, 1, 9},
		{"another day", report("Ana", "one", day(2, cold), day(1, cold)), class.Taken, false, 1, 1, 5},
		{"another task", report("Ana", "two", day(1, cold)), class.Taken, false, 1, 2, 5},
		{"her name as a child types it", report("  ana ", "one", day(1, cold)), class.Taken, false, 1, 1, 5},
		{"another student", report("Ben", "one", day(1, cold)), class.Taken, true, 1, 1, 5},
		{"nobody named", report("", "one", day(1, cold)), class.Taken, true, 1, 1, 5},
		{"a report without a day", report("Ana", "one"), class.Again, false, 0, 1, 5},
		{"what was cut on its way", first[:len(first)-4], class.Refused, false, 0, 1, 5},
		{"what is none", "broken", class.Refused, false, 0, 1, 5},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			k := &class.Class{}
			came := k.Take("", first, today)
			require.Equal(t, class.Taken, came.Outcome)
			require.True(t, came.New)
			came = k.Take("file", c.letters, today)
			assert.Equal(t, c.outcome, came.Outcome)
			assert.Equal(t, c.fresh, came.New)
			assert.Equal(t, c.days, came.Days)
			assert.Equal(t, "file", came.From)
			assert.Equal(t, c.outcome == class.Refused, came.Why != nil)
			ana := k.Find("Ana")
			assert.Len(t, ana.Works, c.works)
			assert.Equal(t, c.minutes, ana.Work("one").Told()[0].Tapped)
			assert.NotEmpty(t, came.Words(nil))
		})
	}
}

func TestMinutesBeforeTheFirstRoundCountOnce(t *testing.T) {
	k := &class.Class{}
	k.Take("", report("Ana", "one", day(1, packet.Day{Piano: 10})), today)
	k.Take("", report("Ana", "one", day(1, packet.Day{Piano: 15, Tapped: 3, Rounds: 2, ColdTempo: 60})), today)
	assert.Equal(t, 15, k.Find("Ana").Work("one").Told()[0].Piano)
	k.Take("", report("Ana", "one", day(1, packet.Day{Piano: 20})), today) // of another device
	assert.Equal(t, 35, k.Find("Ana").Work("one").Told()[0].Piano)
}

func TestAnOlderTaskFindsItsPlace(t *testing.T) {
	k := &class.Class{}
	k.Take("", report("Ana", "new", day(1, packet.Day{Rounds: 1})), today)
	came := k.Take("", report("Ana", "old", day(20, packet.Day{Rounds: 1})), today)
	assert.True(t, came.Older)
	assert.Equal(t, "old", k.Find("Ana").Works[0].ID)
	assert.False(t, k.Take("", report("Ana", "new", day(0, packet.Day{Rounds: 1})), today).Older)
}

func TestWithoutANameTheTaskTellsWhose(t *testing.T) {
	task := packet.Task{Title: "Minuet", Score: "X:1\nK:C\nC4|"}
	k := &class.Class{}
	k.Add("Ana").Give(task, 80, "", today-3)
	came := k.Take("", report("", task.ID(), day(1, packet.Day{Rounds: 1})), today)
	assert.Equal(t, "Ana", came.Student)
	k.Add("Ben").Give(task, 80, "", today-3)
	came = k.Take("", report("", task.ID(), day(0, packet.Day{Rounds: 1})), today)
	assert.Equal(t, "", came.Student, "two have the same task")
}

func TestNoStudentMoreThanThereIsRoomFor(t *testing.T) {
	k := &class.Class{}
	for i := range class.MaxStudents {
		k.Add("student " + strconv.Itoa(i))
	}
	came := k.Take("", report("Zoe", "one"), today)
	assert.Equal(t, class.Full, came.Outcome)
	assert.Equal(t, class.Again, k.Take("", report("student 3", "", day(1, packet.Day{})), today).Outcome-class.Taken+class.Again)
}

func TestAnotherNameIsHers(t *testing.T) {
	k := &class.Class{}
	k.Take("", report("Ana", "one", day(3, packet.Day{Rounds: 1})), today)
	k.Take("", report("Annie", "two", day(2, packet.Day{Rounds: 1})), today)
	require.NotNil(t, k.Rename("Annie", "Ana"))
	require.Len(t, k.Students, 1)
	assert.Len(t, k.Students[0].Works, 2)
	came := k.Take("", report("annie", "three", day(1, packet.Day{Rounds: 1})), today)
	assert.Equal(t, "Ana", came.Student)
	require.NotNil(t, k.Rename("Ana", "Anna"))
	assert.NotNil(t, k.Find("ana"))
	assert.Nil(t, k.Rename("nobody", "Ana"))
	assert.Nil(t, k.Rename("Anna", "  "))
}

// drawn is a report of few names, tasks and days, so that reports meet.
func drawn() *rapid.Generator[string] {
	return rapid.Custom(func(t *rapid.T) string {
		var days []packet.Day
		for range rapid.IntRange(0, 4).Draw(t, "days") {
			days = append(days, day(rapid.IntRange(0, 5).Draw(t, "ago"), packet.Day{
				Tapped: rapid.IntRange(0, 9).Draw(t, "tapped"), Piano: rapid.IntRange(0, 9).Draw(t, "piano"),
				Rounds: rapid.IntRange(0, 3).Draw(t, "rounds"), ColdTempo: rapid.SampledFrom([]float64{0, 60, 66}).Draw(t, "cold"),
				Reached: rapid.SampledFrom([]float64{0, 70}).Draw(t, "reached"),
			}))
		}
		return packet.EncodeReport(packet.Report{
			Name: rapid.SampledFrom([]string{"", "Ana", "ana", "Ben"}).Draw(t, "name"), Task: rapid.SampledFrom([]string{"", "one", "two"}).Draw(t, "task"),
			Title: rapid.SampledFrom([]string{"", "Air"}).Draw(t, "title"), Goal: rapid.SampledFrom([]float64{0, 80, 84}).Draw(t, "goal"),
			Fault: rapid.SampledFrom([]string{"", "bump", "limps"}).Draw(t, "fault"), Days: days,
		})
	})
}

func TestTheOrderOfArrivalIsNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := rapid.SliceOfN(drawn(), 0, 8).Draw(t, "reports")
		mixed := rapid.Permutation(all).Draw(t, "mixed")
		one, two := &class.Class{}, &class.Class{}
		for i := range all {
			one.Take("", all[i], today)
			two.Take("", mixed[i], today)
		}
		// Names are as who came first typed them.
		for _, c := range []*class.Class{one, two} {
			for _, s := range c.Students {
				s.Name = s.Key()
			}
		}
		if a, b := class.Encode(one.Students...), class.Encode(two.Students...); a != b {
			t.Fatalf("%s\n%s", a, b)
		}
	})
}

func TestJoinedTwiceIsJoinedOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := aClass(t, "a"), aClass(t, "b")
		ab, ba := copied(t, a), copied(t, b)
		ab.Join(b)
		ba.Join(a)
		if x, y := class.Encode(ab.Students...), class.Encode(ba.Students...); x != y {
			t.Fatalf("%s\n%s", x, y)
		}
		once := class.Encode(ab.Students...)
		ab.Join(b)
		ab.Join(a)
		if x := class.Encode(ab.Students...); x != once {
			t.Fatalf("%s\n%s", once, x)
		}
	})
}

func aClass(t *rapid.T, name string) *class.Class {
	c := &class.Class{}
	for _, letters := range rapid.SliceOfN(drawn(), 0, 5).Draw(t, name) {
		c.Take("", letters, today)
	}
	for _, s := range c.Students {
		if s.Name == "ana" {
			s.Name = "Ana" // one spelling, for two devices differ in nothing else
		}
		s.SetNote(rapid.SampledFrom([]string{"", "thumb", "the thumb\nheavy"}).Draw(t, "note"), rapid.IntRange(1, 3).Draw(t, "when"))
		s.SetLesson(rapid.IntRange(0, 7).Draw(t, "lesson"), rapid.IntRange(1, 3).Draw(t, "set"))
		s.AddPlan(class.Planned{Day: rapid.IntRange(0, 2).Draw(t, "week"), Title: "Air", Letters: rapid.SampledFrom([]string{"a", "b"}).Draw(t, "letters")}, rapid.IntRange(1, 3).Draw(t, "planned"))
		for _, p := range append([]class.Planned(nil), s.Plan...) {
			if rapid.Bool().Draw(t, "out") {
				s.Unplan(p, rapid.IntRange(1, 3).Draw(t, "at"))
			}
		}
	}
	return c
}

func copied(t rapid.TB, c *class.Class) *class.Class {
	t.Helper()
	again, damaged, err := class.Decode(c.Encode())
	if err != nil || damaged != 0 {
		t.Fatalf("what was written is not read: %v, %d lines damaged", err, damaged)
	}
	return again
}

func TestWhatIsWrittenIsRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := aClass(t, "class")
		text := class.Encode(c.Students...)
		if again := class.Encode(copied(t, c).Students...); again != text {
			t.Fatalf("%s\n%s", text, again)
		}
	})
}

func TestAClassThatWasCutIsKnown(t *testing.T) {
	c := &class.Class{}
	c.Take("", report("Ana", "one", day(1, packet.Day{Rounds: 1})), today)
	c.Take("", report("Ben", "one", day(1, packet.Day{Rounds: 1})), today)
	text := class.Encode(c.Students...)
	_, damaged, err := class.Decode(text)
	require.NoError(t, err)
	assert.Zero(t, damaged)
	for n := len("agremens-class 1"); n < len(text)-1; n++ {
		_, damaged, err := class.Decode(text[:n])
		require.NoError(t, err)
		assert.NotZero(t, damaged, "%d of %d bytes", n, len(text))
	}
	for text, want := range map[string]error{"": class.ErrForeign, "agremens-diary 1\n": class.ErrForeign, "agremens-class x": class.ErrForeign, "agremens-class 2\n": class.ErrNewer} {
		_, _, err := class.Decode(text)
		assert.ErrorIs(t, err, want, "%q", text)
	}
}

func FuzzDecode(f *testing.F) {
	c := &class.Class{}
	c.Take("", report("Ana", "one", day(1, packet.Day{Rounds: 1, ColdTempo: 60, ColdLate: -30})), today)
	c.Find("Ana").SetNote("a\nb\\c", 5)
	c.Find("Ana").AddPlan(class.Planned{Day: today, Title: "Air", Letters: "abc"}, 4)
	c.Find("Ana").AddPlan(class.Planned{Day: today, Title: "Air", Letters: "d"}, 4)
	c.Find("Ana").Unplan(class.Planned{Day: today, Letters: "d"}, 5)
	f.Add(c.Encode())
	c.Erase("Ana", noon)
	f.Add(c.Encode())
	f.Add("agremens-class 1\nstudent\tAna\t9\nwork\tone\nday\t1\t2\nlater\tx\nend\t1\n")
	f.Add("agremens-class 1\nstudent\n\r\r\nend\t1\n")
	f.Fuzz(func(t *testing.T, text string) {
		c, _, err := class.Decode(text)
		if err != nil {
			return
		}
		once := c.Encode()
		again, damaged, err := class.Decode(once)
		if err != nil || damaged != 0 {
			t.Fatalf("what was written is not read: %v, %d damaged:\n%s", err, damaged, once)
		}
		if twice := again.Encode(); twice != once {
			t.Fatalf("%q\n%q", once, twice)
		}
		for i := range class.Arrange(c.Table(today, 4), class.ByLook, class.Filter{}) {
			_ = i
		}
		again.Join(c)
		if joined := again.Encode(); joined != once {
			t.Fatalf("joined with itself:\n%q\n%q", once, joined)
		}
	})
}

// noon is a minute of today.
const noon = today*24*60 + 12*60

func TestAnErasedStudentStaysAway(t *testing.T) {
	filed := &class.Class{}
	filed.Take("", report("Ana", "one", day(3, packet.Day{Rounds: 1})), today)
	filed.Take("", report("Ben", "one", day(3, packet.Day{Rounds: 1})), today)
	filed.Find("Ana").SetNote("thumb", noon-60)
	filed.Find("Ana").AddPlan(class.Planned{Day: today + 7, Title: "Air", Letters: "a"}, noon-60)
	filed.Rename("Ana", "Anna")

	here := copied(t, filed)
	here.Erase("Anna", noon)
	met := here.Join(copied(t, filed))
	assert.Equal(t, class.Met{Out: []string{"Anna"}}, met)
	assert.Nil(t, here.Find("Anna"))
	came := class.Came{Outcome: class.Joined, Days: 2, Met: met}
	assert.Contains(t, came.Words(nil), "left out: Anna.")
	assert.NotRegexp(t, "(?i)an+a", here.Encode(), "her name is not kept")

	// The other device learns of it, and loses nobody else.
	there := copied(t, filed)
	met = there.Join(copied(t, here))
	assert.Equal(t, []string{"Anna"}, met.Erased)
	assert.Len(t, there.Students, 1)
	assert.Equal(t, here.Encode(), there.Encode())

	// Reports: an old one is named and not taken, also under her other name;
	// what she did since is new.
	came = here.Take("", report("ana", "one", day(0, packet.Day{Rounds: 1})), today)
	assert.Equal(t, class.Erased, came.Outcome)
	assert.Contains(t, came.Words(nil), "25 Nov")
	came = here.Take("", report("Anna", "two", day(3, packet.Day{Rounds: 1}), day(-1, packet.Day{Rounds: 1})), today+1)
	assert.Equal(t, class.Taken, came.Outcome)
	assert.Equal(t, 1, came.Days, "what was before stays erased")

	// Added by hand, she may be taken in again.
	again := copied(t, filed)
	again.Erase("Anna", noon)
	again.Readmit("anna", noon)
	again.Join(copied(t, filed))
	require.NotNil(t, again.Find("Anna"))
	assert.Equal(t, "thumb", again.Find("Anna").Note.Text)
	again.Erase("Anna", noon+5)
	again.Join(copied(t, filed))
	assert.Nil(t, again.Find("Anna"))
}

func TestErasuresJoinInAnyOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		classes := []*class.Class{aClass(t, "a"), aClass(t, "b"), aClass(t, "c")}
		for i, c := range classes {
			if name := rapid.SampledFrom([]string{"-", "Ana", "Ben"}).Draw(t, "erased"); name != "-" {
				c.Erase(name, (today-rapid.IntRange(0, 5).Draw(t, "ago"))*24*60+i)
			}
		}
		joined := func(order ...int) string {
			all := &class.Class{}
			for _, i := range order {
				all.Join(copied(t, classes[i]))
			}
			for _, s := range all.Students {
				for i, w := range s.Works {
					// A goal that was told before the erasure may stay with a task that goes on.
					s.Works[i] = class.Work{ID: w.ID, Title: w.Title, Days: w.Days}
					if w.ID != "" {
						s.Works[i].Title = ""
					}
				}
			}
			return all.Encode()
		}
		once := joined(0, 1, 2)
		for _, order := range [][]int{{2, 1, 0}, {1, 0, 2, 1}} {
			if other := joined(order...); other != once {
				t.Fatalf("%v:\n%s\n%s", order, once, other)
			}
		}
	})
}
