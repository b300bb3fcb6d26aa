package diary

// Presumed returns who taps before anybody has said so: the only player there
// is, else the last one if that was today; else nobody.
func (d *Diary) Presumed(last string, day, today int) string {
	if len(d.Players) == 1 {
		return d.Players[0].Name
	}
	if _, known := d.Player(last); known && day == today {
		return last
	}
	return ""
}

// Ask reports whether it is worth asking who taps.
func (d *Diary) Ask() bool { return len(d.Players) > 1 }
