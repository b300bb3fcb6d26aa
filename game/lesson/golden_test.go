package lesson_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/tools/txtar"

	"agremens/assets"
	"agremens/game/lesson"
	"agremens/game/practice"
	"agremens/realize"
	"agremens/realize/codec/packet"
	"agremens/realize/score"
)

var update = flag.Bool("update", false, "write the links of a month that has none yet")

// month names the links that -update writes. Links of an earlier month are
// never written anew: they are in mails and on paper.
const month = "2026-11"

// A link that was sent opens in every later program, with every decision in
// it. Each file holds links of one month: the letters, and what they open.
func TestOldLinksOpen(t *testing.T) {
	if *update {
		writeLinks(t)
	}
	files, err := filepath.Glob("testdata/links-*.txtar")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, name := range files {
		archive, err := txtar.ParseFile(name)
		require.NoError(t, err)
		require.NotEmpty(t, archive.Files)
		for _, f := range archive.Files {
			t.Run(filepath.Base(name)+"/"+f.Name, func(t *testing.T) {
				letters, want, _ := strings.Cut(string(f.Data), "\n")
				assert.Equal(t, want, opened(t, letters))
			})
		}
	}
}

// opened is what a link opens, for eyes too.
func opened(t *testing.T, letters string) string {
	task, err := packet.DecodeTask(letters)
	require.NoError(t, err)
	h, said, err := lesson.Open(task, instruments, nil)
	require.NoError(t, err)
	require.Empty(t, said)
	var b strings.Builder
	fmt.Fprintf(&b, "%s, bars %s, %.0f to %.0f, hand %v, %s\n%s\n", task.Title, h.Desk.Bars(), h.Desk.Beats(), h.Desk.Goal(), h.Desk.Tap, h.Desk.Instrument, task.Words)
	for _, key := range task.Kinds {
		kind, ok := practice.Find(key)
		require.True(t, ok, key)
		fmt.Fprintf(&b, "round: %s\n", kind.Key)
	}
	for _, i := range h.Desk.Inside() {
		o := &h.Desk.Reading.Ornaments[i]
		c := &o.Choices[o.Chosen]
		fmt.Fprintf(&b, "bar %s: %s", h.Desk.Passage.Measures[o.Measure].Number, c.Key)
		if c.Key == "own" { // whose notes are in the link itself
			for _, n := range c.Notes {
				fmt.Fprintf(&b, " %v %v", n.Pitch, n.Dur)
			}
		}
		if h.Free[o.Note] {
			b.WriteString(", free")
		}
		b.WriteString("\n")
	}
	return b.String()
}

func writeLinks(t *testing.T) {
	name := "testdata/links-" + month + ".txtar"
	if _, err := os.Stat(name); err == nil {
		t.Fatal(name, "is there already and is never written anew")
	}
	archive := &txtar.Archive{Comment: []byte("Links as they were sent in " + month + ", and what they open. Never write them anew.\n")}
	for n, e := range assets.Passages() {
		d := deskOf(t, e)
		d.Tap = 2
		d.SetInstrument("click")
		d.SetPercent(70)
		free := map[score.ID]bool{}
		for k, i := range d.Inside() {
			d.Select(i)
			d.Choose((n + k) % len(d.Reading.Ornaments[i].Choices))
			free[d.Reading.Ornaments[i].Note] = k == 1
		}
		if err := d.Edit(realize.Edit{First: 1}); err != nil {
			t.Log(e.ID, "keeps its last choice:", err)
		}
		task, err := lesson.Set(d, lesson.Wish{Words: "Slowly, and with the left hand.", Kinds: []string{practice.Echo, practice.Climb}, Free: free})
		require.NoError(t, err)
		letters := packet.EncodeTask(task)
		archive.Files = append(archive.Files, txtar.File{Name: e.ID, Data: []byte(letters + "\n" + opened(t, letters))})
	}
	require.NoError(t, os.MkdirAll("testdata", 0o755))
	require.NoError(t, os.WriteFile(name, txtar.Format(archive), 0o644))
}
