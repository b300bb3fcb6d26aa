package lesson_test

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"

	"agremens/assets"
	"agremens/game/desk"
	"agremens/game/diary"
	"agremens/game/lesson"
	"agremens/game/practice"
	"agremens/game/round"
	"agremens/realize/codec/packet"
	"agremens/realize/tap"
	"agremens/synth/clock"
)

// letters packs lines as a packet, so that what a link says can be tried
// behind its checksum, which no fuzzer guesses.
func letters(t testing.TB, kind packet.Kind, text string) string {
	b := bytes.NewBuffer([]byte{byte(kind), 1, 0, 0, 0, 0})
	w, err := flate.NewWriter(b, flate.DefaultCompression)
	require.NoError(t, err)
	_, err = w.Write([]byte(text))
	require.NoError(t, err)
	require.NoError(t, w.Close())
	out := b.Bytes()
	binary.BigEndian.PutUint32(out[2:], crc32.ChecksumIEEE(out[6:]))
	return base64.RawURLEncoding.EncodeToString(out)
}

const framesPerSecond = 48000

// ideal hears frame 0 at 0 ms.
type ideal struct{}

func (ideal) HeardAt(frame float64) (float64, bool) { return frame * 1000 / framesPerSecond, true }
func (ideal) FrameAt(ms float64) (float64, bool)    { return ms * framesPerSecond / 1000, true }
func (ideal) Gaps() int                             { return 0 }
func (ideal) Jumps() int                            { return 0 }
func (ideal) Doubtful() []clock.Span                { return nil }

// finite fails where any number in v is none or infinite, and on text that
// shows one.
func finite(t testing.TB, name string, v any) {
	var walk func(name string, v reflect.Value)
	walk = func(name string, v reflect.Value) {
		switch v.Kind() {
		case reflect.Float32, reflect.Float64:
			if x := v.Float(); math.IsNaN(x) || math.IsInf(x, 0) {
				t.Fatalf("%s is %v", name, x)
			}
		case reflect.Pointer, reflect.Interface:
			if !v.IsNil() {
				walk(name, v.Elem())
			}
		case reflect.Slice, reflect.Array:
			for i := range v.Len() {
				walk(fmt.Sprintf("%s[%d]", name, i), v.Index(i))
			}
		case reflect.Map:
			for _, k := range v.MapKeys() {
				walk(fmt.Sprintf("%s[%v]", name, k), v.MapIndex(k))
			}
		case reflect.Struct:
			for i := range v.NumField() {
				walk(name+"."+v.Type().Field(i).Name, v.Field(i))
			}
		}
	}
	walk(name, reflect.ValueOf(v))
}

// practise plays one kind of round on a desk to its end, each note tapped with
// an error that comes from seed, and returns what came of it.
func practise(t testing.TB, d *desk.Desk, kind string, seed uint32) practice.Outcome {
	s, err := practice.Start(kind, practice.On(d))
	if err != nil {
		var missing practice.Missing
		require.ErrorAs(t, err, &missing)
		require.NotEmpty(t, missing.Error())
		return practice.Outcome{}
	}
	now := 0.0
	// A session that wants more than a few steps is stopped in the middle.
	for range 8 {
		step, ok := s.Step()
		if !ok {
			break
		}
		switch step.Act {
		case practice.Ask:
			s.Answer(int(seed) % len(step.Options))
			continue
		case practice.Count:
			s.Answer(0)
			s.Ready()
			continue
		case practice.Wait:
			s.Ready()
			continue
		}
		plan, err := s.Plan(framesPerSecond)
		if err != nil {
			require.True(t, errors.Is(err, round.ErrNothing) || errors.Is(err, round.ErrNoMeasures), "%v", err)
			break
		}
		checkPlan(t, plan)
		r := round.Start(plan, int64(now*framesPerSecond/1000), ideal{}, s.Lead())
		r.Tick(now, ideal{})
		if place, ok := r.Place(now, ideal{}); ok {
			finite(t, "place", place)
		}
		for i := range plan.Wants {
			seed = seed*1664525 + 1013904223 // Numerical Recipes' generator, from memory
			if late := float64(seed>>24) - 100; seed>>16&15 != 0 {
				r.Press(tap.Tap{At: now + plan.Wants[i].At + late, Hand: plan.Wants[i].Hand}, "")
			}
		}
		length := float64(plan.Sequence.Length) * 1000 / framesPerSecond
		r.Tick(now+float64(plan.Lead)*1000/framesPerSecond+1, ideal{})
		if step.Act == practice.Loop {
			now += 1.5 * length
			r.Tick(now, ideal{})
			r.Stop(now, ideal{})
			s.Stop(r, 1.5*length/1000)
			break
		}
		now += length + 500
		r.Tick(now, ideal{})
		require.Equal(t, round.Result, r.State())
		s.Finished(r, length/1000)
	}
	if !s.Over() {
		s.Stop(nil, 0)
	}
	return s.Outcome(int(seed % 5))
}

// checkPlan checks that a plan lies in time: every sound and every want within
// its length, in order.
func checkPlan(t testing.TB, p *round.Plan) {
	finite(t, "wants", p.Wants)
	finite(t, "beat", p.BeatMS)
	finite(t, "notes", p.Sequence.Notes)
	require.Positive(t, p.BeatMS)
	require.GreaterOrEqual(t, p.Lead, int64(0))
	require.Positive(t, p.Sequence.Length)
	require.LessOrEqual(t, p.Lead, p.Sequence.Length)
	for _, n := range p.Sequence.Notes {
		require.GreaterOrEqual(t, n.Start, int64(0))
		require.Less(t, n.Start, n.End)
		require.LessOrEqual(t, n.Start, p.Sequence.Length)
	}
	last := 0.0
	for i := range p.Wants {
		require.GreaterOrEqual(t, p.Wants[i].At, last)
		last = p.Wants[i].At
		require.LessOrEqual(t, p.Frames[i], p.Sequence.Length)
	}
	for at := 0.0; at <= 1; at += 0.25 {
		finite(t, "quarters", p.Quarters(at*float64(p.Sequence.Length)))
	}
}

// FuzzWay goes the whole way of a link: lines in a packet, the student's desk,
// a round tapped on it, the log, and the report that goes back. Whatever the
// link said, nothing panics and every number on the way is in its range.
func FuzzWay(f *testing.F) {
	kinds := practice.Kinds()
	score := "score X:1\\nT:A\\nM:3/4\\nL:1/8\\nQ:1/4=72\\nK:D\\n%%score {1 2}\\nV:1 clef=treble\\nV:2 clef=bass\\n[V:1] !trill!d4 ed|!turn!c4 d2|\\n[V:2] D6|A,6|\\n"
	for i, line := range []string{
		"", "goal 1e-300", "goal NaN", "goal Inf", "goal -Inf", "goal 1e9", "goal 1", "goal 2000", "goal 1e-300\nrate 1e300", "rate NaN", "rate 1e-9", "rate 40", "rate 2", "rate 16",
		"percent 1e-300", "percent NaN", "percent 1000", "pitch NaN", "pitch 1e300", "pitch 300", "bars 2", "kinds trill climb", "hand none\nhear right", "follow all",
		"decision 0 0 trill.upper", "decision 0 0 x\\nown\\nD5 0 1/1048576 0", "decision 0 0 x\\nown\\nD5 -1048576 1048576 0", "decision 0 2 plain", "free 0 1", "fingers 0 0 plain\\n9 9",
		"crossed 0 1 1", "taps 0 60 3 - -7 1", "taps 1048575 2000 x\ntaps 1 1 -", "numbers 7 7", "tradition nowhere", "prefer fashion",
	} {
		f.Add(line+"\n"+score+"\n", byte(i), uint32(i))
	}
	for i, e := range assets.Passages() {
		task, err := lesson.Set(deskOf(f, e), lesson.Wish{})
		require.NoError(f, err)
		f.Add("goal 1e-300\ntradition "+task.Tradition+"\nscore "+escaped(task.Score)+"\n", byte(i), uint32(i))
	}
	f.Fuzz(func(t *testing.T, text string, kind byte, seed uint32) {
		if len(text) > 3000 {
			return // tries more short ones in the same time
		}
		task, err := packet.DecodeTask(letters(t, packet.TaskKind, text))
		if err != nil {
			require.NotEmpty(t, packet.Words(err, nil))
			return
		}
		h, said, err := lesson.Open(task, instruments, nil)
		if err != nil {
			require.NotEmpty(t, lesson.Words(err, nil))
			return
		}
		require.GreaterOrEqual(t, len(said), len(task.Unread), "each number that was left out is said")
		d := h.Desk
		require.NoError(t, d.Check())
		finite(t, "sounding", d.Sounding())
		for i := range d.Reading.Ornaments {
			require.NotEmpty(t, d.Reading.Ornaments[i].Choices)
			finite(t, "ornament", d.Reading.Ornaments[i].Choices)
		}

		o := practise(t, d, kinds[int(kind)%len(kinds)].Key, seed)
		finite(t, "outcome", o.Words)
		finite(t, "records", o.Records)
		finite(t, "result", o.Result)
		log := &diary.Diary{}
		for i, c := range o.Records {
			c.Player = "Ada"
			log.Add(diary.From(c, diary.When{Day: 20781 + i, Minute: 960}, "keys", false))
		}
		log, damaged, err := diary.Decode(log.Encode())
		require.NoError(t, err)
		require.Zero(t, damaged)

		back, err := packet.DecodeReport(packet.EncodeReport(lesson.Report(log, "Ada", task)))
		require.NoError(t, err)
		require.Empty(t, back.Unread, "what is reported is within the limits of a report")
		finite(t, "report", back)
		require.NotEmpty(t, lesson.Read(back, nil).Ask)
	})
}

// FuzzReport: whatever a report's link says, it is read into words.
func FuzzReport(f *testing.F) {
	for _, day := range []string{"2026-11-25 1 2 3 2 60 -40 + 72", "2026-11-25 NaN 1e9 3 4 NaN Inf - 1e300", "0000-00-00 0 0 0 0 0 0 - 0", "9999999999 1 1 1 1 1 1 - 1"} {
		f.Add("name A\ntask 0a1b\ngoal 72\nunaided 1 2\nday " + day + "\n")
	}
	f.Add("goal NaN\nunaided 5 2\npacked dAEAAA\n")
	f.Fuzz(func(t *testing.T, text string) {
		r, err := packet.DecodeReport(letters(t, packet.ReportKind, text))
		if err != nil {
			require.NotEmpty(t, packet.Words(err, nil))
			return
		}
		finite(t, "report", r)
		require.LessOrEqual(t, r.CleanUnaided, r.Unaided)
		for _, day := range r.Days {
			require.LessOrEqual(t, day.Clean, day.Rounds)
			require.LessOrEqual(t, day.Tapped+day.Piano, 2*24*60)
		}
		l := lesson.Read(r, nil)
		require.NotEmpty(t, l.Ask)
		require.Equal(t, len(r.Unread) > 0, len(l.Days) > len(r.Days), "what was left out is said")
		require.LessOrEqual(t, len(packet.EncodeReport(r)), packet.MaxReport)
	})
}

func escaped(s string) string {
	var out []byte
	for i := range len(s) {
		switch s[i] {
		case '\\':
			out = append(out, `\\`...)
		case '\n':
			out = append(out, `\n`...)
		default:
			out = append(out, s[i])
		}
	}
	return string(out)
}
