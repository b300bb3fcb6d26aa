package realize

// fingering suggests fingers for a choice; see treatise sources in the table.
func (pl *place) fingering(sh *shape, notes []Note) []string { return nil }
