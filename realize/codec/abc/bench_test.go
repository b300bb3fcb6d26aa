package abc_test

import (
	"strings"
	"testing"

	"agremens/assets"
	"agremens/realize/codec/abc"
)

// BenchmarkDecode reads a built-in passage, as the text box does at every key.
func BenchmarkDecode(b *testing.B) {
	text := assets.Passages()[0].ABC
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if _, _, err := abc.Decode(text); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkDecodeLong reads two thousand bars.
func BenchmarkDecodeLong(b *testing.B) {
	text := "L:1/16\nK:G\n" + strings.Repeat("GABc dcBA {a}TG2 (3Bcd [Gd]4 |\n", 2000)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if _, _, err := abc.Decode(text); err != nil {
			b.Fatal(err)
		}
	}
}
