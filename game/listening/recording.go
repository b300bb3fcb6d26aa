package listening

import (
	"path"
	"slices"
	"strings"
)

// recordings are the endings of files that may hold what was played; which of
// them a browser can read differs.
var recordings = []string{".aac", ".aif", ".aiff", ".flac", ".m4a", ".mid", ".midi", ".mp3", ".mp4", ".oga", ".ogg", ".opus", ".wav", ".webm"}

// Recording reports whether a file's name says that it holds sound or MIDI.
func Recording(name string) bool {
	return slices.Contains(recordings, strings.ToLower(path.Ext(name)))
}
