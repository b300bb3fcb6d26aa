package musicxml_test

import (
	"testing"

	"agremens/realize/codec/musicxml"
)

// BenchmarkDecode opens three scores of different size.
func BenchmarkDecode(b *testing.B) {
	files := references(b)
	for _, name := range []string{"Bach-Fugue-bwv_846", "Beethoven-14-3", "Beethoven-21-1"} {
		b.Run(name, func(b *testing.B) { open(b, files[name]) })
	}
}

// BenchmarkOpenAll opens all reference scores; cmd/check sets its ms/MB beside
// that of a general reader from npm.
func BenchmarkOpenAll(b *testing.B) {
	var all [][]byte
	for _, data := range references(b) {
		all = append(all, data)
	}
	open(b, all...)
}

func open(b *testing.B, files ...[]byte) {
	size := 0
	for _, data := range files {
		size += len(data)
	}
	b.SetBytes(int64(size))
	b.ReportAllocs()
	for b.Loop() {
		for _, data := range files {
			if _, err := musicxml.Decode(data, nil); err != nil {
				b.Fatal(err)
			}
		}
	}
	b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N)/(float64(size)/(1<<20)), "ms/MB")
}
