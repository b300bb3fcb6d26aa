package diary

// Presumed returns who taps before anybody has said so: whom somebody named
// earlier today, if only to say that it is nobody named; else the only player
// there is; else nobody.
func (d *Diary) Presumed(last string, day, today int) string {
	if _, known := d.Player(last); day == today && (known || last == "") {
		return last
	}
	if len(d.Players) == 1 {
		return d.Players[0].Name
	}
	return ""
}

// Ask reports whether it is worth asking who taps.
func (d *Diary) Ask() bool { return len(d.Players) > 1 }
