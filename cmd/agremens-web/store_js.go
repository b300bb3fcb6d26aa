package main

import (
	"bytes"
	"compress/gzip"
	"encoding/base64"
	"io"
	"slices"

	"agremens/web/dom"
)

// Names in the browser's storage.
const (
	deskKey   = "agremens.desk"
	sourceKey = "agremens.file"
	nameKey   = "agremens.file.name"
	fileID    = "file"
)

// source is an opened file.
type source struct {
	name string
	data []byte
}

// maxStored bounds what is unpacked from storage, in bytes.
const maxStored = 32 << 20

// keep writes the desk to storage, so that a reload at any moment finds it.
func (a *app) keep() {
	if err := dom.Store(deskKey, a.desk.Save()); err != nil && !a.view.unkept {
		a.view.unkept = true
		a.say("This browser keeps nothing for this page (storage is full or switched off): what you set is lost when you close it.")
	}
}

// keepSource writes an opened file to storage, packed.
func (a *app) keepSource(s source, yield func()) {
	a.source = s
	var packed bytes.Buffer
	w := gzip.NewWriter(&packed)
	for part := range slices.Chunk(s.data, 1<<16) {
		if _, err := w.Write(part); err != nil {
			return
		}
		yield()
	}
	if w.Close() != nil {
		return
	}
	err := dom.Store(sourceKey, base64.StdEncoding.EncodeToString(packed.Bytes()))
	if err == nil {
		err = dom.Store(nameKey, s.name)
	}
	if err != nil {
		a.say("“" + s.name + "” is open, but this browser has no room to keep it: after a reload you will have to open it again.")
	}
}

func loadSource() (source, bool) {
	text, ok, err := dom.Load(sourceKey)
	if !ok || err != nil {
		return source{}, false
	}
	packed, err := base64.StdEncoding.DecodeString(text)
	if err != nil {
		return source{}, false
	}
	r, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return source{}, false
	}
	data, err := io.ReadAll(io.LimitReader(r, maxStored))
	if err != nil {
		return source{}, false
	}
	name, _, _ := dom.Load(nameKey)
	return source{name, data}, true
}
