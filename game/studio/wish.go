package studio

import (
	"strings"

	"agremens/game/keep"
	"agremens/game/practice"
)

// Wish is what the teacher asked for in the last task: her words and the kinds
// of round. A first task has some kinds ticked.
func (k *Tasks) Wish() (words string, kinds []string) {
	words, _, _ = k.studio.store.Load(keep.WishKey)
	text, kept, _ := k.studio.store.Load(keep.WishKinds)
	if !kept {
		return words, []string{practice.Echo, practice.One, practice.Alone, practice.Piano}
	}
	return words, strings.Fields(text)
}

// KeepWish keeps it for the next.
func (k *Tasks) KeepWish(words string, kinds []string) {
	_ = k.studio.store.Save(keep.WishKey, words)
	_ = k.studio.store.Save(keep.WishKinds, strings.Join(kinds, " "))
}
