// Package bundle holds the whole page where a program was made to be given
// away: it then serves the page without source, Go or network. In the source
// the archive is empty; "agremens release" puts the page in its place.
package bundle

import _ "embed"

//go:embed site.zip
var archive []byte

// emptyArchive is the size of a zip file without files, in bytes.
const emptyArchive = 22

// Archive returns the page as a zip file of what package site writes; ok is
// false in a program that was built from source as it is.
func Archive() (data []byte, ok bool) { return archive, len(archive) > emptyArchive }
