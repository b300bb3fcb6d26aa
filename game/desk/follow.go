package desk

import "agremens/realize/score"

// follows are the words for which repeats and jumps are played.
var follows = []struct {
	word string
	o    score.RoadOptions
}{
	{"once", score.RoadOptions{}},
	{"repeats", score.RoadOptions{Repeats: true}},
	{"jumps", score.RoadOptions{Jumps: true}},
	{"all", score.RoadOptions{Repeats: true, Jumps: true}},
}

// FollowWord returns the word for how repeats are played, in addresses and menus.
func FollowWord(o score.RoadOptions) string {
	for _, f := range follows {
		if f.o == o {
			return f.word
		}
	}
	return ""
}

// ParseFollow reads such a word.
func ParseFollow(word string) (score.RoadOptions, bool) {
	for _, f := range follows {
		if f.word == word {
			return f.o, true
		}
	}
	return score.RoadOptions{}, false
}

// Following is what of the chosen repeats and jumps is there to be played in
// the chosen bars.
func (d *Desk) Following() score.RoadOptions {
	repeats, jumps := d.Passage.Turns(d.From, d.To)
	return score.RoadOptions{Repeats: d.Follow.Repeats && repeats, Jumps: d.Follow.Jumps && jumps}
}

// Follows returns the words that make a difference in the chosen bars, none
// where they hold nothing to follow.
func (d *Desk) Follows() []string {
	repeats, jumps := d.Passage.Turns(d.From, d.To)
	var words []string
	for _, f := range follows {
		if (repeats || !f.o.Repeats) && (jumps || !f.o.Jumps) {
			words = append(words, f.word)
		}
	}
	if len(words) < 2 {
		return nil
	}
	return words
}
