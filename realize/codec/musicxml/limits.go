package musicxml

// Limits. A file is refused at the first one it breaks, so that neither
// memory nor time depends on what a hostile file claims.
const (
	maxFile         = 20 << 20 // bytes, before and after unpacking
	maxToken        = 1 << 20  // bytes of one tag
	maxMended       = 1000     // broken tags that are passed over; what follows more is not read
	maxText         = 64 << 10 // bytes of text kept from one element
	maxDepth        = 64       // elements inside each other; real scores need 9
	maxParts        = 200
	maxMeasures     = 2000
	maxMeasureNotes = 2000
	maxNotes        = 200_000 // 20 MB at a hundred bytes a note, which is as terse as files get
	maxMarks        = 200_000
	maxZipEntries   = 2000
	maxContainer    = 64 << 10 // bytes of META-INF/container.xml

	maxStaff     = 2
	maxVoiceName = 64 // bytes
	maxDots      = 4
	maxTuplet    = 128     // actual or normal notes
	maxDivisions = 1 << 22 // a quarter
	maxMeasure   = 4096    // quarters in a measure
)
