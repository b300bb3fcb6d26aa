package musicxml_test

import (
	"fmt"
	"runtime"
	"strings"
	"testing"

	"agremens/realize/codec/musicxml"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// largest is a score of 2,000 bars that almost fills 20 MB with notes.
func largest() []byte {
	var b strings.Builder
	b.WriteString(`<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1">` + "\n")
	for m := 1; m <= 2000; m++ {
		fmt.Fprintf(&b, "<measure number=\"%d\">\n", m)
		if m == 1 {
			b.WriteString("<attributes><divisions>8</divisions><time><beats>4</beats><beat-type>4</beat-type></time><staves>2</staves></attributes>\n")
		}
		for staff := 1; staff <= 2; staff++ {
			for i := range 32 {
				fmt.Fprintf(&b, "<note>\n <pitch>\n  <step>%c</step>\n  <octave>%d</octave>\n </pitch>\n <duration>1</duration>\n <voice>%d</voice>\n <type>32nd</type>\n <staff>%d</staff>\n</note>\n",
					"CDEFGAB"[(i+m)%7], 6-2*staff, staff, staff)
			}
			if staff == 1 {
				b.WriteString("<backup><duration>32</duration></backup>\n")
			}
		}
		b.WriteString("</measure>\n")
	}
	b.WriteString("</part></score-partwise>")
	return []byte(b.String())
}

// peak runs f and returns the most heap that was in use while it reported, in
// bytes, beyond what was in use before.
func peak(f func(report func())) uint64 {
	var s runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&s)
	before, most := s.HeapInuse, s.HeapInuse
	report := func() {
		runtime.ReadMemStats(&s)
		most = max(most, s.HeapInuse)
	}
	f(report)
	report()
	return most - before
}

// TestLargest: as much as the limits allow opens, within bounded memory.
func TestLargest(t *testing.T) {
	data := largest()
	require.Greater(t, len(data), 18<<20)
	require.LessOrEqual(t, len(data), 20<<20)
	var r *musicxml.Result
	last, calls := 0.0, 0
	used := peak(func(report func()) {
		var err error
		r, err = musicxml.DecodeWatched(data, "", func(done float64) {
			if calls++; calls%20 == 0 {
				report()
			}
			// Where one thread does all, the collector works while the caller waits.
			runtime.Gosched()
			assert.GreaterOrEqual(t, done, last, "progress goes one way")
			last = done
		})
		require.NoError(t, err)
	})
	assert.Len(t, r.Passage.Measures, 2000)
	assert.Len(t, r.Passage.Chords, 2000*64)
	assert.Greater(t, calls, 200)
	assert.InDelta(t, 1, last, 0.1)
	t.Logf("%.1f MB of score took %d MB", float64(len(data))/(1<<20), used>>20)
	assert.Less(t, used, uint64(256<<20))
}

// TestHostileMemory: what is refused is refused before it costs memory.
func TestHostileMemory(t *testing.T) {
	if testing.Short() {
		t.Skip("much to go through, and no different as WebAssembly")
	}
	measure := func(inside string) []byte {
		return []byte(oneScore(`<measure number="1">` + attributes + inside + `</measure>`))
	}
	toggles := strings.Repeat(`<attributes><key number="2"><fifths>1</fifths></key></attributes><attributes><key number="2"><fifths>0</fifths></key></attributes>`, 60_000)
	signs := strings.Repeat(`<attributes><measure-style><measure-repeat type="start">1</measure-repeat></measure-style></attributes>`, 100_000)
	metres := strings.Repeat(`<forward><duration>1</duration></forward><attributes><time><beats>3</beats><beat-type>4</beat-type></time></attributes>`, 8_000)
	for _, tc := range []struct {
		name string
		data []byte
	}{
		{"a zip bomb", archive(t, "META-INF/container.xml", `<container><rootfiles><rootfile full-path="a.xml"/></rootfiles></container>`, "a.xml", strings.Repeat(" ", 300<<20))},
		{"a zip bomb for a directory", archive(t, "META-INF/container.xml", strings.Repeat(" ", 300<<20))},
		{"a billion laughs", []byte(`<!DOCTYPE score-partwise [` + strings.Repeat(`<!ENTITY a "&b;&b;&b;">`, 1000) + `]><score-partwise/>`)},
		{"an attribute without end", []byte(`<score-partwise a="` + strings.Repeat("x", 19<<20))},
		{"a comment without end", []byte(`<score-partwise><!--` + strings.Repeat("x", 19<<20))},
		{"deep nesting", []byte("<score-partwise>" + strings.Repeat("<a>", 5<<20))},
		{"many attributes", []byte("<score-partwise><part-list/><part " + strings.Repeat(`a="1" `, 3<<20) + "/>")},
		{"a signature that changes a hundred thousand times", measure(toggles + quarter("C", 5))},
		{"a hundred thousand signs of repetition", measure(signs + quarter("C", 5))},
		{"eight thousand metres in a bar", measure(metres + quarter("C", 5))},
		{"names of a megabyte", measure(`<note id="` + strings.Repeat("n", 900_000) + `"><pitch><step>C</step><octave>5</octave></pitch><duration>4</duration><voice>` + strings.Repeat("v", 60_000) + `</voice></note>`)},
	} {
		t.Run(tc.name, func(t *testing.T) {
			var before, after runtime.MemStats
			used := peak(func(report func()) {
				runtime.ReadMemStats(&before)
				_, _ = musicxml.DecodeWatched(tc.data, "", func(float64) { report() })
				runtime.ReadMemStats(&after)
			})
			assert.Less(t, used, uint64(96<<20), "at once")
			assert.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(768<<20), "over all")
		})
	}
}
