package musicxml_test

import (
	"archive/zip"
	"bytes"
	"runtime"
	"strings"
	"testing"

	"agremens/realize/codec/musicxml"
)

// FuzzContainer: archives of any make, with one byte changed, give an error or
// a passage, and never much memory. The parts are packed here, since a fuzzer
// does not find checksums.
func FuzzContainer(f *testing.F) {
	small := oneScore(`<measure number="1">` + attributes + strings.Repeat(quarter("C", 5), 4) + `</measure>`)
	list := func(path string) string {
		return `<container><rootfiles><rootfile full-path="` + path + `"/></rootfiles></container>`
	}
	f.Add("META-INF/container.xml", []byte(list("a.xml")), "a.xml", []byte(small), true, uint16(0), byte(0), uint16(1))
	f.Add("mimetype", []byte("application/vnd.recordare.musicxml"), "b.musicxml", []byte(small), false, uint16(30), byte(1), uint16(2))
	f.Add("META-INF/container.xml", []byte(list("../a.xml")), "a.xml", []byte("<opus/>"), true, uint16(60), byte(0xFF), uint16(1))
	f.Add("META-INF/container.xml", []byte(list("a.xml")), "a.xml", []byte(strings.Repeat(" ", 1000)), true, uint16(200), byte(0x80), uint16(40000))
	f.Fuzz(func(t *testing.T, name1 string, data1 []byte, name2 string, data2 []byte, packed bool, at uint16, change byte, times uint16) {
		var b bytes.Buffer
		w := zip.NewWriter(&b)
		add := func(name string, data []byte, times int) {
			method := zip.Store
			if packed {
				method = zip.Deflate
			}
			out, err := w.CreateHeader(&zip.FileHeader{Name: name, Method: method})
			if err != nil {
				return
			}
			for range times {
				if _, err := out.Write(data); err != nil {
					return
				}
			}
		}
		add(name1, data1, 1)
		// Some archives unpack to much more than they are.
		if packed && len(data2) > 0 {
			most := 1 << 16
			if times > 0xFF00 {
				most = 22 << 20 // beyond the limit
			}
			add(name2, data2, max(1, min(int(times), most/len(data2))))
		} else {
			add(name2, data2, 1)
		}
		if w.Close() != nil {
			return
		}
		data := b.Bytes()
		data[int(at)%len(data)] ^= change
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		r, err := musicxml.Decode(data, nil)
		runtime.ReadMemStats(&after)
		if grown := after.TotalAlloc - before.TotalAlloc; grown > 1<<30 {
			t.Fatalf("%d MB were taken for %d bytes", grown>>20, len(data))
		}
		if err == nil {
			if err := r.Passage.Check(); err != nil {
				t.Fatal(err)
			}
		} else if r != nil {
			t.Fatal("an error and a result")
		}
	})
}
