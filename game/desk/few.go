package desk

import "strings"

// FirstSentence parts a text after its first sentence: what is told at once
// and what is told when asked for. A text of one sentence has no rest.
func FirstSentence(text string) (first, rest string) {
	for from := 0; ; {
		i := strings.Index(text[from:], ". ")
		if i < 0 {
			return text, ""
		}
		end := from + i + 1
		if !initial(text[:end-1]) {
			return text[:end], text[end+1:]
		}
		from = end
	}
}

// initial reports whether a text ends in a single letter or a figure: the
// full stop after it belongs to a name ("J. S. Bach") or an ordinal.
func initial(text string) bool {
	word := text[strings.LastIndexAny(text, " (.")+1:]
	return len([]rune(word)) == 1 || word != "" && strings.Trim(word, "0123456789") == ""
}

// FewWays returns the indexes of the first n ways to play a sign; the chosen
// one takes the last place where it would not be among them.
func FewWays(ways []ChoiceWords, n int) []int {
	var few []int
	for i := range ways {
		if len(few) < n {
			few = append(few, i)
		} else if ways[i].Chosen {
			few[n-1] = i
		}
	}
	return few
}
