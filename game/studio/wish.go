package studio

import (
	"strings"

	"agremens/game/keep"
	"agremens/game/practice"
)

// Wish is what the teacher asked for in the last task: her words and the kinds
// of round. A first task has some kinds ticked.
func (s *Studio) Wish() (words string, kinds []string) {
	words, _, _ = s.store.Load(keep.WishKey)
	text, kept, _ := s.store.Load(keep.WishKinds)
	if !kept {
		return words, []string{practice.Echo, practice.One, practice.Alone, practice.Piano}
	}
	return words, strings.Fields(text)
}

// KeepWish keeps it for the next.
func (s *Studio) KeepWish(words string, kinds []string) {
	_ = s.store.Save(keep.WishKey, words)
	_ = s.store.Save(keep.WishKinds, strings.Join(kinds, " "))
}

// Leave makes ready for a page in another language: what sounds stops, and what
// is on the desk is kept.
func (s *Studio) Leave() {
	s.Rounds.Stop()
	s.Keep()
}
