package shelf

import "strings"

// Matches reports whether every word that is looked for stands in one of the
// texts, in small or capital letters; nothing is found for no word.
func Matches(find string, texts ...string) bool {
	all := strings.ToLower(strings.Join(texts, "\n"))
	words := strings.Fields(strings.ToLower(find))
	for _, word := range words {
		if !strings.Contains(all, word) {
			return false
		}
	}
	return len(words) > 0
}
