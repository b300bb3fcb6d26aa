package main

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"io"
)

// unwoff turns a WOFF 1.0 file into the sfnt it wraps (W3C WOFF File Format 1.0, sections 3–5).
func unwoff(data []byte) ([]byte, error) {
	be := binary.BigEndian
	if len(data) < 44 || string(data[:4]) != "wOFF" {
		return nil, errors.New("not a WOFF file")
	}
	count := int(be.Uint16(data[12:]))
	out := make([]byte, 12+16*count)
	copy(out, data[4:8])
	be.PutUint16(out[4:], uint16(count))
	for i := range count {
		entry := data[44+20*i:]
		offset, packed, length := be.Uint32(entry[4:]), be.Uint32(entry[8:]), be.Uint32(entry[12:])
		table := data[offset : offset+packed]
		if packed < length {
			r, err := zlib.NewReader(bytes.NewReader(table))
			if err != nil {
				return nil, err
			}
			if table, err = io.ReadAll(r); err != nil {
				return nil, err
			}
		}
		record := out[12+16*i:]
		copy(record[:4], entry[:4])
		copy(record[4:8], entry[16:20])
		be.PutUint32(record[8:], uint32(len(out)))
		be.PutUint32(record[12:], length)
		out = append(out, table...)
		for len(out)%4 != 0 {
			out = append(out, 0)
		}
	}
	return out, nil
}
