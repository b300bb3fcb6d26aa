package listening_test

import (
	"bytes"
	"encoding/binary"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/game/listening"
	"agremens/game/listening/ear"
	"agremens/game/practice"
	"agremens/game/round"
	"agremens/realize/codec/smf"
	"agremens/realize/tap"
)

// The passage and its faults are ours, the limits those of the words: an
// ornament is called late from 40 ms on (realize/tap).
func TestPlayed(t *testing.T) {
	for name, tt := range map[string]struct {
		take  take
		late  bool
		hands ear.Hands
		tempo float64 // felt beats a minute; the passage's own is 80
	}{
		"as written":            {take{}, false, ear.BothHands, 80},
		"slower, at one's own":  {take{slower: 1.4}, false, ear.BothHands, 80 / 1.4},
		"ornaments late":        {take{late: 0.09}, true, ear.BothHands, 80},
		"the right hand alone":  {take{only: round.RightHand}, false, ear.RightHand, 80},
		"with a little of hiss": {take{noise: 0.002}, false, ear.BothHands, 80},
	} {
		t.Run(name, func(t *testing.T) {
			if testing.Short() && name != "ornaments late" && name != "slower, at one's own" {
				t.Skip("each take is a second of work")
			}
			s := session(t, "mordent", "1-4")
			p := plan(t, s)
			r, ended := hear(p, tt.take.samples(t, p))
			require.Equal(t, ear.Judged, r.Reason)
			assert.True(t, ended, "the last note was noticed")
			assert.Equal(t, tt.hands, r.Hands)
			s.Finished(listening.Judge(p, r), 12)
			require.True(t, s.Over())
			o := s.Outcome(0)
			require.NotNil(t, o.Result)
			require.NotEmpty(t, o.Result.Findings)
			assert.Equal(t, tt.late, o.Result.Findings[0].Code == tap.CodeLateStart, o.Words.Summary)
			assert.Equal(t, !tt.late, o.Result.Clean, o.Words.Summary)
			require.Len(t, o.Records, 1)
			c := o.Records[0]
			assert.Equal(t, "piano", c.Kind)
			assert.True(t, c.Judged && c.Help.Unaided())
			assert.InDelta(t, tt.tempo, c.Tempo, 0.03*tt.tempo, "the tempo that was played, not the one that was set")
			assert.Contains(t, o.Words.Figures, "notes played")
			assert.NotEmpty(t, o.Marks.Marks())
			assert.NotEqual(t, "piano", o.Next.Kind, "there one is")
		})
	}
}

// The takes that stand in for a microphone in web/e2e: each is named.
func TestFaultsAreNamed(t *testing.T) {
	if testing.Short() {
		t.Skip("each take is a second of work")
	}
	for name, tt := range map[string]struct {
		take take
		says string
	}{
		"missing": {take{skip: missed}, "One of 40 notes is missing"},
		"wrong":   {take{wrong: missed}, "One note differs from the one planned"},
		"uneven":  {take{uneven: 0.04}, "is bunched at its end"},
	} {
		t.Run(name, func(t *testing.T) {
			s := session(t, "mordent", "1-4")
			p := plan(t, s)
			r, _ := hear(p, tt.take.samples(t, p))
			require.Equal(t, ear.Judged, r.Reason)
			s.Finished(listening.Judge(p, r), 12)
			assert.Contains(t, s.Outcome(0).Words.Summary, tt.says)
		})
	}
}

func TestNothingIsJudgedOnAGuess(t *testing.T) {
	p := plan(t, session(t, "mordent", "1-4"))
	other := plan(t, session(t, "trill", "5-8"))
	hiss := make([]float32, 8*rate)
	random := uint32(7)
	for i := range hiss {
		random = random*1664525 + 1013904223
		hiss[i] = (float32(random>>8)/(1<<23) - 1) * 0.1
	}
	for name, tt := range map[string]struct {
		samples []float32
		says    string
	}{
		"silence":       {make([]float32, 8*rate), "Nothing was heard"},
		"no sample":     {nil, "Nothing was heard"},
		"another piece": {take{}.samples(t, other), "not what stands in the chosen bars"},
		"hiss alone":    {hiss, "nothing is judged|too much other sound"},
	} {
		t.Run(name, func(t *testing.T) {
			r, _ := hear(p, tt.samples)
			said := listening.Refusal(r, nil)
			require.NotEmpty(t, said)
			found := false
			for _, part := range strings.Split(tt.says, "|") {
				found = found || strings.Contains(said, part)
			}
			assert.True(t, found, said)
			assert.Empty(t, r.Notes)
		})
	}
}

func TestRefusals(t *testing.T) {
	for name, tt := range map[string]struct {
		report ear.Report
		says   string
	}{
		"judged":      {ear.Report{}, ""},
		"too loud":    {ear.Report{Reason: ear.OtherMusic, Clipped: true, Peak: 1, SNR: 40}, "too loud"},
		"far away":    {ear.Report{Reason: ear.OtherMusic, Peak: 0.005, SNR: 40}, "too faint"},
		"noise":       {ear.Report{Reason: ear.OtherMusic, Peak: 0.5, SNR: 5}, "too much other sound"},
		"unsure":      {ear.Report{Reason: ear.TooNoisy, Peak: 0.5, SNR: 40}, "too much other sound"},
		"other":       {ear.Report{Reason: ear.OtherMusic, Peak: 0.5, SNR: 40}, "not what stands"},
		"speech":      {ear.Report{Reason: ear.NoNotes, Peak: 0.5, SNR: 40}, "No notes of a keyboard"},
		"beat alone":  {ear.Report{Reason: ear.NoNotes, Beat: ear.HeardBeat, Peak: 0.5}, "The beat was heard"},
		"beat, other": {ear.Report{Reason: ear.OtherMusic, Beat: ear.HeardBeat, Peak: 0.5}, "The beat was heard"},
		"beat, noise": {ear.Report{Reason: ear.TooNoisy, Beat: ear.HeardBeat, Peak: 0.5}, "too much other sound"},
		"no beat":     {ear.Report{Reason: ear.NoNotes, Beat: ear.UnheardBeat, Peak: 0.5}, "too much other sound"},
		"broken off":  {ear.Report{Reason: ear.TooShort, Peak: 0.5, SNR: 40}, "to their end"},
	} {
		t.Run(name, func(t *testing.T) {
			said := listening.Refusal(tt.report, nil)
			assert.Equal(t, tt.says == "", said == "")
			assert.Contains(t, said, tt.says)
		})
	}
	troubles := map[string]bool{}
	for _, trouble := range []listening.Trouble{listening.Refused, listening.Absent, listening.Unable, listening.Unanswered, listening.Unheard, listening.Taken, listening.Unreadable} {
		troubles[trouble.Say(nil)] = true
	}
	assert.Len(t, troubles, 7)
	assert.Len(t, listening.Remarks(ear.Report{Hands: ear.LeftHand, Passes: 2, Clipped: true, Notes: []ear.Heard{{State: ear.Unsure}}}, true, nil), 5)
	assert.Empty(t, listening.Remarks(ear.Report{Passes: 1}, false, nil))
}

// While one plays it is said what to do about the sound.
func TestLevelsAreSaid(t *testing.T) {
	for level, does := range map[ear.Level]string{
		ear.LevelFine: "", ear.LevelClipped: "move the device a little away", ear.LevelFaint: "put the device nearer",
		ear.LevelNoisy: "find a quieter moment", ear.LevelBeat: "play with it",
	} {
		said := listening.SayLevel(level, nil)
		assert.Equal(t, does == "", said == "")
		assert.Contains(t, said, does)
	}
}

// The edges are where a tuning is told from, and where it has changed enough to
// be told again.
func TestTuningIsToldOnce(t *testing.T) {
	for _, tt := range []struct {
		cents, said float64
		says        string
	}{
		{0, 0, ""}, {7.9, 0, ""}, {8, 0, "about 8 cents (hundredths of a semitone) above"}, {-7.9, 0, ""}, {-8, 0, "about 8 cents (hundredths of a semitone) below"},
		{-18.4, 0, "about 18 cents (hundredths of a semitone) below"}, {-18.4, -18.4, ""}, {-20, -12.1, ""}, {-20, -12, "about 20 cents (hundredths of a semitone) below"}, {0, -18, ""},
	} {
		said := listening.Tuning(ear.Report{Cents: tt.cents}, tt.said, nil)
		assert.Equal(t, tt.says == "", said == "", "%v", tt)
		assert.Contains(t, said, tt.says)
	}
	if testing.Short() {
		return
	}
	for _, cents := range []float64{-45, -18, 0, 25, 45} {
		p := plan(t, session(t, "mordent", "1-4"))
		r, _ := hear(p, take{cents: cents}.samples(t, p))
		require.Equal(t, ear.Judged, r.Reason)
		assert.InDelta(t, cents, r.Cents, 3)
	}
}

// What does not come from our listener is taken for a round without notes.
func TestUnpackTakesAnything(t *testing.T) {
	p := plan(t, session(t, "mordent", "1-1"))
	rapid.Check(t, func(t *rapid.T) {
		row := rapid.SliceOfN(rapid.Float64(), 0, 40).Draw(t, "row")
		r := ear.Unpack(row)
		assert.LessOrEqual(t, 3*len(r.Notes)+2*len(r.Extra), len(row))
		listening.Judge(p, r)
		ear.New(rate, row).Finish()
	})
}

// midiOf is what stands in the bars of a plan, as a MIDI file.
func midiOf(p *round.Plan) []byte {
	sounding, last := *p.Sounding, p.Wants[len(p.Wants)-1].Onset
	sounding.Notes = nil
	for _, n := range p.Sounding.Notes {
		if !last.Less(n.Onset) {
			sounding.Notes = append(sounding.Notes, n)
		}
	}
	return smf.Encode(&sounding, "")
}

func TestAMIDIFileIsJudgedToo(t *testing.T) {
	s := session(t, "mordent", "1-4")
	p := plan(t, s)
	task, _ := listening.Task(p)
	e := ear.New(rate, task.Pack())
	require.True(t, e.Struck(midiOf(p)))
	r := ear.Unpack(e.Finish())
	require.Equal(t, ear.Judged, r.Reason)
	s.Finished(listening.Judge(p, r), 12)
	o := s.Outcome(0)
	require.NotNil(t, o.Result)
	assert.True(t, o.Result.Clean, o.Words.Summary)

	e = ear.New(rate, task.Pack())
	assert.False(t, e.Struck([]byte("MThd and no more")))
	assert.NotEmpty(t, listening.Refusal(ear.Unpack(e.Finish()), nil))
}

// TestTakes writes the takes that stand in for a microphone in web/e2e, as WAV
// files, to the folder AGREMENS_TAKES.
func TestTakes(t *testing.T) {
	folder := os.Getenv("AGREMENS_TAKES")
	if folder == "" {
		t.Skip("AGREMENS_TAKES names no folder: nothing is written")
	}
	p := plan(t, session(t, "mordent", "1-4"))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "clean.mid"), midiOf(p), 0o644))
	for name, k := range map[string]take{
		"clean": {}, "late": {late: 0.09}, "missing": {skip: missed}, "wrong": {wrong: missed}, "uneven": {uneven: 0.04}, "silence": {only: round.NoHand, silent: true},
	} {
		// A fake microphone begins before the page listens, and again at its end.
		samples := append(make([]float32, 12*rate), k.samples(t, p)...)
		write(t, filepath.Join(folder, name+".wav"), append(samples, make([]float32, 8*rate)...))
	}
	// Beside what the page sounds: from its first sound on.
	p = plan(t, with(t, "mordent", "1-4", practice.TheBeatAndHand))
	for name, k := range map[string]take{
		"clean": {}, "late": {late: 0.09}, "missing": {skip: 9}, "wrong": {wrong: 9}, "uneven": {uneven: 0.04},
	} {
		k.cents, k.noise, k.room = 12, 0.001, true
		write(t, filepath.Join(folder, "beside-"+name+".wav"), k.samples(t, p)[before*rate:])
	}
	for i, samples := range climbed(t, take{}) {
		write(t, filepath.Join(folder, "beside-climb-"+strconv.Itoa(i)+".wav"), samples[before*rate:])
	}
}

// climbed is a climb from nine tenths of the tempo, with the beat, of which
// every round is played as k: a take for each.
func climbed(t testing.TB, k take) (takes [][]float32) {
	t.Helper()
	s := begun(t, "mordent", "1-2", practice.Climb, 90, practice.TheBeat)
	for len(takes) < 5 && !s.Over() {
		p := plan(t, s)
		takes = append(takes, k.samples(t, p))
		r, _ := hearBeside(p, takes[len(takes)-1], k.sent(t, p))
		require.Equal(t, ear.Judged, r.Reason)
		s.Finished(listening.Judge(p, r), 12)
	}
	return takes
}

func TestClimbed(t *testing.T) {
	takes := climbed(t, take{beside: &beside{late: 0.05, loud: 0.5}})
	assert.Len(t, takes, 3, "up to the goal, and twice there")
	if testing.Short() {
		return
	}
	assert.Len(t, climbed(t, take{late: 0.12, beside: &beside{late: 0.05, loud: 0.5}}), 3, "three rounds that are late call for a pause")
}

// missed is a note of a round with both hands that is left out or taken for
// another: the right hand's on the fourth beat.
const missed = 12

// write writes mono samples as a WAV file.
func write(t *testing.T, name string, samples []float32) {
	t.Helper()
	var b bytes.Buffer
	b.WriteString("RIFF")
	le := func(values ...any) {
		for _, v := range values {
			require.NoError(t, binary.Write(&b, binary.LittleEndian, v))
		}
	}
	le(uint32(36+2*len(samples)), []byte("WAVEfmt "), uint32(16), uint16(1), uint16(1), uint32(rate), uint32(2*rate), uint16(2), uint16(16), []byte("data"), uint32(2*len(samples)))
	for _, x := range samples {
		le(int16(x * 32767))
	}
	require.NoError(t, os.WriteFile(name, b.Bytes(), 0o644))
}
