package listening_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/listening"
	"agremens/game/listening/ear"
	"agremens/game/practice"
	"agremens/realize/tap"
)

// A round with the beat, or with the beat and the other hand, is held against
// the beat as it was heard. The passage and its faults are ours.
func TestPlayedWithTheBeat(t *testing.T) {
	loud, phones := &beside{late: 0.11, loud: 0.5}, &beside{}
	for name, tt := range map[string]struct {
		take   take
		sounds practice.Meanwhile
		beat   ear.Beat
		first  string // code of the first finding; "" where all is clean
		long   bool
	}{
		"as written":                     {take{beside: loud}, practice.TheBeat, ear.HeardBeat, "", true},
		"the program's left hand":        {take{beside: loud}, practice.TheBeatAndHand, ear.HeardBeat, "", false},
		"late against the beat":          {take{beside: loud, late: 0.09}, practice.TheBeatAndHand, ear.HeardBeat, tap.CodeLateStart, false},
		"a note left out":                {take{beside: loud, skip: 9}, practice.TheBeatAndHand, ear.HeardBeat, tap.CodeMissed, true},
		"another key":                    {take{beside: loud, wrong: 9}, practice.TheBeatAndHand, ear.HeardBeat, tap.CodeOtherKeys, true},
		"uneven":                         {take{beside: loud, uneven: 0.04}, practice.TheBeatAndHand, ear.HeardBeat, tap.CodeCrowdedBack, true},
		"headphones":                     {take{beside: phones}, practice.TheBeat, ear.UnheardBeat, "", true},
		"headphones, late":               {take{beside: phones, late: 0.09}, practice.TheBeatAndHand, ear.UnheardBeat, tap.CodeLateStart, true},
		"slower than the beat, at one's": {take{beside: loud, slower: 1.3}, practice.TheBeat, ear.LeftBeat, "", true},
	} {
		t.Run(name, func(t *testing.T) {
			if testing.Short() && tt.long {
				t.Skip("each take is a second of work")
			}
			s := with(t, "mordent", "1-4", tt.sounds)
			p := plan(t, s)
			r, ended := hearBeside(p, tt.take.samples(t, p), tt.take.sent(t, p))
			require.Equal(t, ear.Judged, r.Reason)
			assert.True(t, ended)
			assert.Equal(t, tt.beat, r.Beat)
			if r.Beat == ear.HeardBeat {
				late := tt.take.beside.late*1000 + 1000*before
				for i, h := range r.Notes {
					task, wants := listening.Task(p)
					if h.State == ear.Played && task.Notes[i].Ornament < 0 {
						// Played in time is in time with the sound, less the loudspeaker's delay.
						assert.InDelta(t, wants[i].At+late, h.Due, 3, "note %d", i)
					}
				}
			}
			s.Finished(listening.Judge(p, r), 12)
			o := s.Outcome(0)
			require.NotNil(t, o.Result)
			require.NotEmpty(t, o.Result.Findings)
			if tt.first == "" || tt.first == tap.CodeLateStart {
				assert.Equal(t, tt.first == "", o.Result.Clean, o.Words.Summary)
			}
			if tt.first != "" {
				assert.Equal(t, tt.first, o.Result.Findings[0].Code, o.Words.Summary)
			}
			assert.Equal(t, tt.beat != ear.HeardBeat, len(listening.Remarks(r, false, nil)) > 0)
			if tt.take.slower == 0 {
				assert.InDelta(t, 80, o.Records[0].Tempo, 1)
			}
		})
	}
}

// With headphones nothing in the recording tells where the beat was. Ornaments
// with plain notes on both sides are held against these; of the first and the
// last ones the lateness is told too small, and the words say so.
func TestLatenessWithHeadphones(t *testing.T) {
	if testing.Short() {
		t.Skip("each take is a second of work")
	}
	for _, late := range []float64{0.05, 0.09, 0.13} {
		p := plan(t, with(t, "mordent", "1-4", practice.TheBeatAndHand))
		k := take{late: late, beside: &beside{}}
		r, _ := hearBeside(p, k.samples(t, p), k.sent(t, p))
		require.Equal(t, ear.UnheardBeat, r.Beat)
		assert.Contains(t, listening.Remarks(r, false, nil)[0], "may have been later than it says here")
		task, _ := listening.Task(p)
		var told []float64
		for i, n := range task.Notes {
			if n.Ornament >= 0 && (i == 0 || task.Notes[i-1].Ornament != n.Ornament) && r.Notes[i].State == ear.Played {
				told = append(told, r.Notes[i].At-r.Notes[i].Due)
			}
		}
		require.Len(t, told, 4)
		for i, ms := range told {
			if i == 0 || i == len(told)-1 {
				assert.Less(t, ms, 1000*late+10)
				continue
			}
			assert.InDelta(t, 1000*late, ms, 10, "ornament %d", i)
		}
	}
}

// Where only the beat sounded, that is what is said, not that it was noisy.
func TestTheBeatAlone(t *testing.T) {
	p := plan(t, with(t, "mordent", "1-2", practice.TheBeat))
	sent := take{}.sent(t, p)
	heard := make([]float32, len(sent)+rate)
	for i, x := range sent {
		heard[i+rate/10] = 0.5 * x
	}
	r, _ := hearBeside(p, heard, sent)
	assert.Equal(t, ear.HeardBeat, r.Beat)
	assert.Contains(t, listening.Refusal(r, nil), "The beat was heard")
}
