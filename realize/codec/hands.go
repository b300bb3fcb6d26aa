package codec

import "agremens/realize/words"

// Part is one part of a file.
type Part struct {
	ID, Name string
	Staves   int
	Chosen   bool // in the passage
}

func (p Part) label() string {
	if p.Name != "" {
		return p.Name
	}
	return p.ID
}

// Choice is a part, or two parts for the two hands, that can be opened by its
// id.
type Choice struct {
	ID, Label string
	Chosen    bool
}

// mostPairs is how many parts of one staff are offered in every pair; of more
// only neighbours are.
const mostPairs = 6

// Choices lists what can be chosen of a file with several parts: every part,
// and every two parts of one staff as right and left hand.
func (s *Score) Choices(c *words.Catalogue) []Choice {
	if len(s.Parts) < 2 {
		return nil
	}
	var all []Choice
	var single []Part
	chosen := 0
	for _, p := range s.Parts {
		if p.Chosen {
			chosen++
		}
		if p.Staves <= 1 {
			single = append(single, p)
		}
	}
	for _, p := range s.Parts {
		all = append(all, Choice{p.ID, p.label(), p.Chosen && chosen == 1})
	}
	for i, right := range single {
		for k, left := range single[i+1:] {
			if len(single) > mostPairs && k > 0 {
				break
			}
			all = append(all, Choice{
				ID:     right.ID + "+" + left.ID,
				Label:  c.Say("right hand {a}, left hand {b}", "{a}", right.label(), "{b}", left.label()),
				Chosen: right.Chosen && left.Chosen,
			})
		}
	}
	return all
}
