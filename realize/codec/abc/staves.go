package abc

import "strings"

// staves says which voices stand on which staff, upper staff first.
func (p *parser) staves() [][]*voice {
	groups := p.layoutGroups()
	if groups == nil {
		for _, v := range p.voices {
			groups = append(groups, []*voice{v})
		}
	}
	if len(groups) <= 2 {
		return groups
	}
	// More staves than two hands have: by clef.
	if p.layout != "" {
		p.warn(p.layoutAt, "there are more than two staves; the voices are put on two by their clefs")
	}
	two := make([][]*voice, 2)
	for i, group := range groups {
		for _, v := range group {
			at := 0
			if v.clef != nil && v.clef.Sign == "F" || v.clef == nil && i == len(groups)-1 {
				at = 1
			}
			two[at] = append(two[at], v)
		}
	}
	if len(two[0]) == 0 || len(two[1]) == 0 {
		return [][]*voice{append(two[0], two[1]...)}
	}
	return two
}

// layoutGroups reads %%score {(1 2) 3}: parentheses share a staff. Voices
// that it does not name are left out.
func (p *parser) layoutGroups() [][]*voice {
	if p.layout == "" {
		return nil
	}
	var groups [][]*voice
	text := p.layout
	for _, mark := range []string{"(", ")", "{", "}", "[", "]", "|", "*"} {
		text = strings.ReplaceAll(text, mark, " "+mark+" ")
	}
	shared := false
	named := map[string]bool{}
	for _, word := range strings.Fields(text) {
		switch word {
		case "(":
			shared = true
			groups = append(groups, nil)
		case ")":
			shared = false
		case "{", "}", "[", "]", "|", "*":
		default:
			v := p.known(word)
			if v == nil || named[word] {
				if v == nil {
					p.warn(p.layoutAt, "the voice {voice} has no notes", "{voice}", word)
				}
				continue
			}
			named[word] = true
			if shared {
				groups[len(groups)-1] = append(groups[len(groups)-1], v)
			} else {
				groups = append(groups, []*voice{v})
			}
		}
	}
	full := groups[:0]
	for _, g := range groups {
		if len(g) > 0 {
			full = append(full, g)
		}
	}
	for _, v := range p.voices {
		if !named[v.id] && len(v.bars) > 0 {
			p.warn(p.layoutAt, "the voice {voice} is not named in the score and is left out", "{voice}", v.id)
			v.bars = nil
		}
	}
	return full
}

// known returns the voice of an id, nil if there is none.
func (p *parser) known(id string) *voice {
	for _, v := range p.voices {
		if v.id == id {
			return v
		}
	}
	return nil
}
