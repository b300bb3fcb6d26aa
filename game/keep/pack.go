package keep

import (
	"bytes"
	"compress/gzip"
	"encoding/base64"
	"io"
)

// maxStored bounds what is unpacked, in bytes.
const maxStored = 32 << 20

// pack returns data as text for a store.
func pack(data []byte, breathe func()) string {
	var out bytes.Buffer
	text := base64.NewEncoder(base64.StdEncoding, &out)
	w, _ := gzip.NewWriterLevel(text, gzip.BestSpeed)
	for rest := data; len(rest) > 0; {
		n := min(len(rest), 64<<10)
		if _, err := w.Write(rest[:n]); err != nil {
			break // a buffer takes everything
		}
		rest = rest[n:]
		if breathe != nil {
			breathe()
		}
	}
	_ = w.Close()
	_ = text.Close()
	return out.String()
}

// unpack is the other way; ok is false for what is no packed text.
func unpack(text string) (data []byte, ok bool) {
	r, err := gzip.NewReader(base64.NewDecoder(base64.StdEncoding, bytes.NewReader([]byte(text))))
	if err != nil {
		return nil, false
	}
	data, err = io.ReadAll(io.LimitReader(r, maxStored))
	return data, err == nil
}
