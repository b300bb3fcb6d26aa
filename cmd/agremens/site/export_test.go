package site

import "time"

// SetPatience changes how long a stuck reader is waited for, and returns how
// long it was.
func SetPatience(d time.Duration) (old time.Duration) {
	old, patience = patience, d
	return old
}
