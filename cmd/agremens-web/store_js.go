package main

import (
	"bytes"
	"compress/gzip"
	"encoding/base64"
	"io"

	"agremens/game/desk"
	"agremens/web/dom"
)

// Names in the browser's storage.
const (
	deskKey  = "agremens.desk"  // what lies on the desk
	pastKey  = "agremens.desk." // with a passage's id: its desk, when it was put away
	shelfKey = "agremens.shelf" // the list of kept passages
	keptKey  = "agremens.kept." // with an id: what an item of the list holds
	paperKey = "agremens.paper" // the form of a place on paper, as it was last
	typedKey = "agremens.typed" // the text that is being typed
)

// maxStored bounds what is unpacked from storage, in bytes.
const maxStored = 32 << 20

// keep writes the desk to storage, so that a reload at any moment finds it.
func (a *app) keep() {
	if err := dom.Store(deskKey, a.desk.Save()); err != nil {
		a.unkept()
	}
}

// unkept says once that nothing more can be kept.
func (a *app) unkept() {
	if !a.view.unkept {
		a.view.unkept = true
		a.say(a.words.Say("This browser can save nothing more for this page (its storage is full or switched off): your settings are lost when you close it. Save important work as a file, under Send."))
	}
}

// putAway keeps the desk of a passage that makes room for another.
func (a *app) putAway(d *desk.Desk) {
	if d != nil && dom.Store(pastKey+d.ID, d.Save()) != nil {
		a.unkept()
	}
}

// bringBack makes the desk of a passage what it was when it was put away.
func (a *app) bringBack(d *desk.Desk, yield func()) {
	if saved, ok, _ := dom.Load(pastKey + d.ID); ok {
		a.restore(d, saved, yield)
	}
}

// restore brings a saved desk back. The notes a second are those of who plays
// now, where they are known and the task does not say.
func (a *app) restore(d *desk.Desk, saved string, yield func()) {
	rate := 0.0
	if p, ok := a.log.diary.Player(a.log.player); ok && a.homework == nil {
		rate = p.Rate
	}
	d.RestoreFor(rate, saved, yield)
}

// packed returns data as text for the storage; it yields while it works.
func packed(data []byte) string {
	var out bytes.Buffer
	text := base64.NewEncoder(base64.StdEncoding, &out)
	w, _ := gzip.NewWriterLevel(text, gzip.BestSpeed)
	breathe := dom.Breathe(turnMS)
	for rest := data; len(rest) > 0; breathe() {
		n := min(len(rest), 64<<10)
		if _, err := w.Write(rest[:n]); err != nil {
			break // a buffer takes everything
		}
		rest = rest[n:]
	}
	_ = w.Close()
	_ = text.Close()
	return out.String()
}

// unpacked is the other way; ok is false for what is no packed text.
func unpacked(text string) (data []byte, ok bool) {
	r, err := gzip.NewReader(base64.NewDecoder(base64.StdEncoding, bytes.NewReader([]byte(text))))
	if err != nil {
		return nil, false
	}
	data, err = io.ReadAll(io.LimitReader(r, maxStored))
	return data, err == nil
}
