package diary

// Claim gives a player what is in the diary of a passage without a name: on a
// tablet at home the name is often typed only when the report leaves.
func (d *Diary) Claim(player, passage string) {
	d.SetPlayer(d.known(player))
	for i := range d.Rounds {
		if r := &d.Rounds[i]; r.Player == "" && r.Passage == passage {
			r.Player = player
		}
	}
	for i := range d.Pianos {
		if p := &d.Pianos[i]; p.Player == "" && p.Passage == passage {
			p.Player = player
		}
	}
}

// known returns a player as the diary has it, else a new one.
func (d *Diary) known(name string) Player {
	p, _ := d.Player(name)
	p.Name = name
	return p
}
