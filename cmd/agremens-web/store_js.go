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

// keep writes the desk to storage, so that a reload at any moment finds it:
// what this window shows, and under the passage what all windows decided.
func (a *app) keep() {
	text := a.desk.Save()
	_ = dom.StoreTab(deskKey, text)
	if dom.Store(deskKey, text) != nil || a.keepDecisions(a.desk.ID, text) != nil {
		a.unkept()
	}
}

// keepDecisions joins a desk with what another window may have kept for its
// passage meanwhile.
func (a *app) keepDecisions(id, text string) error {
	stored, _, _ := dom.Load(pastKey + id)
	err := dom.Store(pastKey+id, desk.Merge(a.kept[id], text, stored))
	a.kept[id] = text
	return err
}

// lastDesk is the desk that this window showed last, else any window.
func lastDesk() string {
	if text, ok, _ := dom.LoadTab(deskKey); ok {
		return text
	}
	text, _, _ := dom.Load(deskKey)
	return text
}

// unkept says once that nothing more can be kept.
func (a *app) unkept() {
	if !a.view.unkept {
		a.view.unkept = true
		a.say(a.words.Say("This browser keeps nothing more for this page (storage is full or switched off): what you set is lost when you close it. What matters to you can be sent as a file, under Send."))
	}
}

// putAway keeps the desk of a passage that makes room for another.
func (a *app) putAway(d *desk.Desk) {
	if d != nil && a.keepDecisions(d.ID, d.Save()) != nil {
		a.unkept()
	}
}

// bringBack makes the desk of a passage what it was when it was put away.
func (a *app) bringBack(d *desk.Desk, yield func()) {
	if saved, ok, _ := dom.Load(pastKey + d.ID); ok {
		a.restore(d, saved, yield)
	}
	a.begin(d)
}

// begin notes what a desk is before anything is decided in this window.
func (a *app) begin(d *desk.Desk) {
	a.kept[d.ID] = d.Save()
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
