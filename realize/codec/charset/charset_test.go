package charset

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

func TestTextOfUnknownEncoding(t *testing.T) {
	const want = "X:1\nT:Prélude – 2\nK:C\n"
	utf16le, err := unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewEncoder().String(want)
	assert.NoError(t, err)
	utf16be, err := unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM).NewEncoder().String(want)
	assert.NoError(t, err)
	windows, err := charmap.Windows1252.NewEncoder().String(want)
	assert.NoError(t, err)
	for name, data := range map[string]string{
		"UTF-8": want, "UTF-8 with a mark": "\xef\xbb\xbf" + want,
		"UTF-16 with a mark": utf16le, "UTF-16 without a mark": utf16be, "Windows-1252": windows,
	} {
		assert.Equal(t, want, Text([]byte(data)), name)
	}
	assert.Equal(t, "", Text(nil))
	assert.Equal(t, "C", Text([]byte("C")))
}
