package diary_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math/rand"
	"os"
	"strings"
	"testing"
	"time"

	"agremens/game/diary"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func aRound(day, minute int, player string) diary.Round {
	return diary.Round{
		When: diary.When{Day: day, Minute: minute}, Player: player, Passage: "turn", Title: "Allegretto", Bars: "1-4",
		Kind: "tap", With: "keys", Hand: "right", Beats: 60, Goal: 80, Seconds: 40,
		Wanted: 20, Hit: 19, Missed: 1, MeanMS: -12.5, SpreadMS: 31.25, Starts: []float64{40, -20, 0}, Uneven: []float64{0.125},
		Certain: true,
	}
}

// The standard library's calendar is the source.
func TestDates(t *testing.T) {
	for day := 0; day < 60000; day += 7 {
		want := time.Unix(int64(day)*86400, 0).UTC()
		assert.Equal(t, want.Format("2006-01-02"), diary.When{Day: day}.Date())
		assert.Equal(t, want.Format("2 Jan"), diary.When{Day: day}.Short(nil))
	}
	// The leap day that comes once in 400 years.
	assert.Equal(t, "2000-02-29", diary.When{Day: 11016}.Date())
	assert.Equal(t, "2000-03-01", diary.When{Day: 11017}.Date())
	assert.Equal(t, "09:05", diary.When{Minute: 545}.Time())
}

func TestEncodedByHand(t *testing.T) {
	var d diary.Diary
	d.Add(aRound(20417, 965, "Anna"))
	d.SetPlayer(diary.Player{Name: "Anna", Rate: 7.25, With: "keys"})
	d.AddEar(diary.Ear{When: diary.When{Day: 20417, Minute: 980}, Player: "Anna", Passage: "turn", Title: "Allegretto", OnBeat: 2, Even: 1, Lands: 3, Steady: 9})
	d.AddPiano(diary.Piano{When: diary.When{Day: 20417, Minute: 990}, Player: "Anna", Passage: "turn", Title: "Allegretto", Minutes: 4})
	want := "agremens-diary 1\n" +
		"player\tAnna\t7.25\tkeys\t\n" +
		"round\t20417\t965\tAnna\tturn\tAllegretto\t1-4\ttap\tkeys\tright\t60\t80\t40\t20\t19\t1\t0\t-12.5\t31.3\t40,-20,\t0.125\tt\t\n" +
		"ear\t20417\t980\tAnna\tturn\tAllegretto\t2\t1\t3\t3\n" +
		"piano\t20417\t990\tAnna\tturn\tAllegretto\t4\n"
	assert.Equal(t, want, d.Encode())
}

func anyRound(t *rapid.T) diary.Round {
	text := rapid.String()
	number := rapid.Float64Range(-2e5, 2e5)
	whole := rapid.IntRange(-5, 300000)
	return diary.Round{
		When: diary.When{Day: whole.Draw(t, "day"), Minute: whole.Draw(t, "minute")}, Player: text.Draw(t, "player"),
		Passage: text.Draw(t, "passage"), Title: text.Draw(t, "title"), Bars: text.Draw(t, "bars"), Kind: text.Draw(t, "kind"),
		With: text.Draw(t, "with"), Hand: text.Draw(t, "hand"), Beats: number.Draw(t, "beats"), Goal: number.Draw(t, "goal"),
		Seconds: whole.Draw(t, "seconds"), Wanted: whole.Draw(t, "wanted"), Hit: whole.Draw(t, "hit"),
		MeanMS: number.Draw(t, "mean"), SpreadMS: number.Draw(t, "spread"),
		Starts: rapid.SliceOfN(number, 0, 50).Draw(t, "starts"), Uneven: rapid.SliceOfN(number, 0, 50).Draw(t, "uneven"),
		Clean: rapid.Bool().Draw(t, "clean"), Unaided: rapid.Bool().Draw(t, "unaided"), Void: rapid.Bool().Draw(t, "void"),
		Plain: rapid.Bool().Draw(t, "plain"), Fault: text.Draw(t, "fault"),
	}
}

// Whatever is put in comes back: once written and read, a diary writes itself
// the same again.
func TestEncodeDecode(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var d diary.Diary
		for range rapid.IntRange(0, 5).Draw(t, "rounds") {
			d.Add(anyRound(t))
		}
		d.SetPlayer(diary.Player{Name: rapid.String().Draw(t, "name"), Rate: rapid.Float64().Draw(t, "rate"), Young: rapid.Bool().Draw(t, "young")})
		text := d.Encode()
		back, damaged, err := diary.Decode(text)
		require.NoError(t, err)
		assert.Zero(t, damaged)
		assert.Equal(t, text, back.Encode())
		assert.Len(t, back.Rounds, len(d.Rounds))
	})
}

func TestDecodeDamaged(t *testing.T) {
	var d diary.Diary
	for i := range 3 {
		d.Add(aRound(20000+i, 600, "Ben"))
	}
	good := d.Encode()
	cases := []struct {
		name, text      string
		err             error
		rounds, damaged int
	}{
		{"nothing", "", diary.ErrNotDiary, 0, 0},
		{"something else", "version 1\npassage turn\n", diary.ErrNotDiary, 0, 0},
		{"too long", "agremens-diary 1\n" + strings.Repeat("x", 5<<20), diary.ErrTooLong, 0, 0},
		{"cut in the middle", good[:len(good)-30], nil, 2, 1},
		{"a letter for a number", strings.Replace(good, "\t600\t", "\tsix\t", 1), nil, 2, 1},
		{"a player without a name", good + "player\t\t\t\t\n", nil, 3, 1},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, damaged, err := diary.Decode(c.text)
			assert.ErrorIs(t, err, c.err)
			if err != nil {
				return
			}
			assert.Len(t, got.Rounds, c.rounds)
			assert.Equal(t, c.damaged, damaged)
		})
	}
}

// A line of a later version is not lost by an earlier one.
func TestLaterLinesAreKept(t *testing.T) {
	text := "agremens-diary 2\nround\t1\t2\tA\tp\tt\tb\tk\tw\th\t\t\t0\t0\t0\t0\t0\t\t\t\t\tct\t\tmore\nsong\tnew\n"
	d, damaged, err := diary.Decode(text)
	require.NoError(t, err)
	assert.Zero(t, damaged)
	assert.True(t, d.Rounds[0].Clean)
	assert.Contains(t, d.Encode(), "song\tnew\n")
}

func TestBounds(t *testing.T) {
	var d diary.Diary
	for i := range diary.MaxRounds + 10 {
		d.Add(aRound(i, 0, ""))
	}
	assert.Len(t, d.Rounds, diary.MaxRounds)
	assert.Equal(t, 10, d.Rounds[0].Day, "the oldest go first")
	assert.Less(t, len(d.Encode()), 600_000, "a full diary fits the five megabytes that browsers give a site")
	for i := range diary.MaxPlayers {
		assert.True(t, d.SetPlayer(diary.Player{Name: fmt.Sprint("P", i)}))
	}
	assert.False(t, d.SetPlayer(diary.Player{Name: "one more"}))
	assert.True(t, d.SetPlayer(diary.Player{Name: "P1", Rate: 8}))
	assert.False(t, d.SetPlayer(diary.Player{Name: " \t"}))
	assert.Equal(t, "Anna M", diary.Name(" Anna\n\tM\x00 "))
}

func TestDropAndErase(t *testing.T) {
	var d diary.Diary
	assert.False(t, d.Drop(1, true))
	d.Add(aRound(1, 0, "A"))
	d.Add(aRound(2, 0, "B"))
	d.SetPlayer(diary.Player{Name: "A"})
	d.SetPlayer(diary.Player{Name: "B"})
	d.AddEar(diary.Ear{Player: "A", OnBeat: 3})
	d.AddPiano(diary.Piano{Player: "B", Minutes: 3})
	d.Sign(1, "C")
	assert.Equal(t, "B", d.Rounds[1].Player, "what has a name keeps it")
	assert.True(t, d.Drop(1, true))
	assert.Zero(t, d.Progress("B", "").Rounds, "a dropped round does not count")
	d.Drop(1, false)
	assert.Equal(t, 1, d.Progress("B", "").Rounds)
	assert.False(t, d.Drop(3, true))
	assert.True(t, d.Drop(2, true), "a session of several rounds goes as one")
	assert.Zero(t, d.Progress("A", "").Rounds)
	d.Drop(2, false)
	assert.Len(t, d.Of("A").Rounds, 1)
	d.Erase("A")
	assert.Equal(t, []diary.Player{{Name: "B"}}, d.Players)
	assert.Len(t, d.Rounds, 1)
	assert.Empty(t, d.Ears)
	d.Erase("B")
	assert.True(t, d.Empty())
}

func TestWhoIsPresumed(t *testing.T) {
	cases := []struct {
		name    string
		players []string
		last    string
		day     int
		want    string
		ask     bool
	}{
		{"nobody known", nil, "", 0, "", false},
		{"one player needs no question", []string{"A"}, "", 0, "A", false},
		{"the last of two, today", []string{"A", "B"}, "B", 9, "B", true},
		{"the last of two, yesterday", []string{"A", "B"}, "B", 8, "", true},
		{"erased since", []string{"A", "B"}, "C", 9, "", true},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var d diary.Diary
			for _, p := range c.players {
				d.SetPlayer(diary.Player{Name: p})
			}
			assert.Equal(t, c.want, d.Presumed(c.last, c.day, 9))
			assert.Equal(t, c.ask, d.Ask())
		})
	}
	var d diary.Diary
	d.Add(aRound(1, 0, ""))
	d.Sign(1, " Anna ")
	assert.Equal(t, "Anna", d.Rounds[0].Player)
	assert.Equal(t, []diary.Known{{"turn", "Allegretto"}}, d.Passages())
}

func TestCSV(t *testing.T) {
	var d diary.Diary
	r := aRound(20417, 965, `=cmd|"x",1`)
	r.Title = `He said "allegro", twice`
	d.Add(r)
	rows, err := csv.NewReader(bytes.NewReader(d.CSV())).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 2)
	got := map[string]string{}
	for i, name := range rows[0] {
		got[name] = rows[1][i]
	}
	assert.Equal(t, "2025-11-25", got["date"]) // day 20417 by the standard library, see TestDates
	assert.Equal(t, "16:05", got["time"])
	assert.Equal(t, `'=cmd|"x",1`, got["name"], "no formula for a spreadsheet to run")
	assert.Equal(t, r.Title, got["title"])
	assert.Equal(t, "20", got["start_off_beat_ms"])
	assert.Equal(t, "12.5", got["uneven_percent"])
	assert.Equal(t, "-12.5", got["mean_ms"])
	assert.Equal(t, "false", got["dropped"])
}

func TestJSON(t *testing.T) {
	var d diary.Diary
	r := aRound(20417, 965, `Ann"a\`)
	r.Starts = nil
	d.Add(r)
	d.SetPlayer(diary.Player{Name: `Ann"a\`})
	d.AddEar(diary.Ear{Player: "A", Even: 2})
	d.AddPiano(diary.Piano{Player: "A", Minutes: 5})
	var got struct {
		Schema  int
		Players []map[string]any
		Rounds  []map[string]any
		ByEar   []map[string]any
		AtPiano []map[string]any `json:"atThePiano"`
	}
	require.NoError(t, json.Unmarshal(d.JSON(), &got))
	assert.Equal(t, 1, got.Schema)
	assert.Equal(t, r.Player, got.Rounds[0]["name"])
	assert.Nil(t, got.Rounds[0]["start_off_beat_ms"])
	assert.Equal(t, -12.5, got.Rounds[0]["mean_ms"])
	assert.Nil(t, got.Players[0]["notesPerSecond"])
	assert.Equal(t, 2.0, got.ByEar[0]["even"])
	assert.Equal(t, 5.0, got.AtPiano[0]["minutes"])
	require.NoError(t, json.Unmarshal((&diary.Diary{}).JSON(), &got))
}

// Whatever a player types, both exports can be read.
func TestExportsAreReadable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var d diary.Diary
		d.Add(anyRound(t))
		_, err := csv.NewReader(bytes.NewReader(d.CSV())).ReadAll()
		require.NoError(t, err)
		require.True(t, json.Valid(d.JSON()), "%s", d.JSON())
	})
}

// days makes a round a day whose ornaments start around so many ms.
func practised(r *rand.Rand, d *diary.Diary, from, days int, middle, scatter float64, unaided bool) {
	for i := range days {
		x := aRound(from+i, 600, "A")
		x.Starts = nil
		for range 4 {
			x.Starts = append(x.Starts, middle+scatter*r.NormFloat64())
		}
		x.Unaided = unaided
		d.Add(x)
	}
}

// Below twice its standard error nothing is claimed (teaching notes); the
// words for it are those of package tap.
func TestBetterOrNot(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	cases := []struct {
		name          string
		before, after float64
		days          int
		want          string
	}{
		{"half as far, eight days", 90, 40, 4, "better"},
		{"the same, eight days", 70, 70, 4, "no clear change yet"},
		{"farther", 30, 90, 5, "worse than before"},
		{"six days are too few", 90, 40, 3, "6 days so far; from eight on a change can be seen"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var d diary.Diary
			practised(r, &d, 100, c.days, c.before, 20, false)
			practised(r, &d, 200, c.days, c.after, 20, false)
			rows := d.Progress("A", "").Rows(nil)
			assert.Equal(t, "First round of each day, cold", rows[0].Name)
			assert.True(t, strings.HasSuffix(rows[0].Text, c.want), rows[0].Text)
			assert.Equal(t, "none yet", rows[1].Text, "no round without help")
		})
	}
}

// Where nothing changes, "better" or "less" is said about once in twenty
// times (twice the standard error), a little more for so few days.
func TestNothingChanges(t *testing.T) {
	r := rand.New(rand.NewSource(2))
	claimed := 0
	for range 1000 {
		var d diary.Diary
		practised(r, &d, 1, 12, 60, 30, true)
		if text := d.Progress("A", "").Rows(nil)[1].Text; !strings.HasSuffix(text, "no clear change yet") {
			claimed++
		}
	}
	assert.Less(t, claimed, 110)
	assert.Greater(t, claimed, 20)
}

func TestColdNewAndEars(t *testing.T) {
	var d diary.Diary
	plain := aRound(1, 10, "A")
	plain.Plain, plain.Starts = true, nil
	d.Add(plain)
	for i, passage := range []string{"turn", "turn", "trill"} {
		x := aRound(1, 20+i, "A")
		x.Passage, x.Clean, x.Fault = passage, i == 1, "late-start"
		d.Add(x)
	}
	d.Add(aRound(1, 5, "somebody else"))
	d.AddEar(diary.Ear{Player: "A", Passage: "turn", OnBeat: 1, Even: 2})
	p := d.Progress("A", "")
	assert.Equal(t, 1, p.Days)
	assert.Equal(t, 4, p.Rounds)
	assert.Equal(t, 3, p.Minutes, "160 s, a minute begun counts")
	assert.Equal(t, 1, p.Cold.Rounds)
	assert.Equal(t, 2, p.New.Rounds, "two passages met for the first time")
	assert.Equal(t, "late-start", p.Fault)
	assert.Equal(t, 20, p.Last[0].Cold.Minute, "plain notes are no cold round of ornaments")
	assert.Equal(t, 0.75, p.Last[0].Best)
	assert.Equal(t, "1 of 3", p.Rows(nil)[3].Text)
	assert.Equal(t, 3, d.Progress("A", "turn").Rounds)
	assert.Equal(t, "1 day, 4 rounds, 3 minutes of tapping.", p.Summary(nil))
}

func TestPicture(t *testing.T) {
	assert.Empty(t, diary.Progress{}.Picture(nil))
	r := rand.New(rand.NewSource(5))
	var d diary.Diary
	practised(r, &d, 20400, 9, 80, 20, false)
	practised(r, &d, 20420, 9, 45, 15, true)
	svg := d.Progress("A", "").Picture(nil)
	decoder := xml.NewDecoder(strings.NewReader(svg))
	shapes := map[string]int{}
	for {
		token, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		if s, ok := token.(xml.StartElement); ok {
			shapes[s.Name.Local]++
			for _, a := range s.Attr {
				assert.NotEqual(t, "style", a.Name.Local, "the page allows no inline style")
			}
		}
	}
	assert.Equal(t, 18, shapes["circle"], "a disc for each day")
	assert.Equal(t, 1+9+18, shapes["rect"], "a band, nine open squares, a bar a day")
	golden(t, "testdata/days.svg", svg)
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	if os.Getenv("UPDATE") != "" {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(name, []byte(got), 0o644))
	}
	want, err := os.ReadFile(name)
	require.NoError(t, err, "UPDATE=1 writes it")
	assert.Equal(t, string(want), got)
}

func FuzzDecode(f *testing.F) {
	var d diary.Diary
	d.Add(aRound(20417, 965, "Anna"))
	d.SetPlayer(diary.Player{Name: "Anna", Rate: 7})
	d.AddEar(diary.Ear{Player: "Anna", Even: 2})
	f.Add(d.Encode())
	f.Add("agremens-diary 1\nround\t1")
	f.Add("")
	f.Fuzz(func(t *testing.T, text string) {
		d, _, err := diary.Decode(text)
		if err != nil {
			if d != nil {
				t.Fatal("an error and a diary")
			}
			return
		}
		once := d.Encode()
		again, damaged, err := diary.Decode(once)
		if err != nil || damaged != 0 || again.Encode() != once {
			t.Fatalf("not the same again: %q", once)
		}
		if !json.Valid(d.JSON()) {
			t.Fatal("no JSON")
		}
		d.Progress("", "").Picture(nil)
	})
}
