package realize

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/sorting"
)

// InPass names a note in one pass of a repeat, counted from 1.
type InPass struct {
	Note score.ID
	Pass int
}

// Fingers are the fingers a user wants for one choice.
type Fingers struct {
	Key     string // of the choice
	Fingers []string
}

// The functions below return a changed taste and leave the one they are
// called on as it is, so that whoever keeps the old one can go back to it.

func with[K comparable, V any](m map[K]V, k K, v V) map[K]V {
	out := make(map[K]V, len(m)+1)
	maps.Copy(out, m)
	out[k] = v
	return out
}

func without[K comparable, V any](m map[K]V, gone func(K) bool) map[K]V {
	out := maps.Clone(m)
	maps.DeleteFunc(out, func(k K, _ V) bool { return gone(k) })
	if len(out) == 0 {
		return nil
	}
	return out
}

// Choose takes a choice for a note by its key, in every pass.
func (t Taste) Choose(note score.ID, key string) Taste {
	t.Chosen = with(t.Chosen, note, key)
	t.Passes = without(t.Passes, func(p InPass) bool { return p.Note == note })
	return t
}

// ChooseInPass takes a choice for a note in one pass of a repeat; the other
// passes stay as they are.
func (t Taste) ChooseInPass(note score.ID, pass int, key string) Taste {
	t.Passes = with(t.Passes, InPass{note, pass}, key)
	return t
}

// WithOwn gives a note a realization of the user's own and takes it.
func (t Taste) WithOwn(note score.ID, own Own) Taste {
	t.Own = with(t.Own, note, own)
	return t.Choose(note, OwnKey)
}

// WithFingers keeps fingers for one choice of a note.
func (t Taste) WithFingers(note score.ID, key string, fingers []string) Taste {
	t.Fingers = with(t.Fingers, note, Fingers{key, slices.Clone(fingers)})
	return t
}

// Always takes a choice, by its key, for all ornaments of the same signs that
// offer it and where nothing else is decided.
func (t Taste) Always(signs []string, key string) Taste {
	t.Standing = with(t.Standing, SignsKey(signs), key)
	return t
}

// Forget takes back all that was decided for a note.
func (t Taste) Forget(note score.ID) Taste {
	is := func(id score.ID) bool { return id == note }
	t.Chosen, t.Own, t.Fingers = without(t.Chosen, is), without(t.Own, is), without(t.Fingers, is)
	t.Passes = without(t.Passes, func(p InPass) bool { return p.Note == note })
	return t
}

// SignsKey names a stack of signs in [Taste.Standing]: "trill-mark",
// "grace+slash".
func SignsKey(signs []string) string { return strings.Join(signs, "+") }

// TakeAlong decides for the places that stand like an ornament what a taste
// decides for it, a realization of the user's own transposed. It returns the
// new taste and the ids of the ornaments taken along.
func (r *Reading) TakeAlong(t Taste, ornamentID string) (Taste, []string) {
	of := r.find(ornamentID)
	if of == nil {
		return t, nil
	}
	own, isOwn := t.Own[of.Note]
	key, decided := t.Chosen[of.Note]
	if !decided && !isOwn {
		return t, nil
	}
	var taken []string
	for _, id := range r.Alike(ornamentID) {
		o := r.find(id)
		offers := slices.ContainsFunc(o.Choices, func(c Choice) bool { return c.Key == key })
		switch {
		case isOwn && (key == OwnKey || !decided):
			t = t.WithOwn(o.Note, own.moved(of, o))
		case offers:
			t = t.Choose(o.Note, key)
		default:
			continue
		}
		for p, k := range t.Passes {
			if p.Note == of.Note {
				t = t.ChooseInPass(o.Note, p.Pass, k)
			}
		}
		taken = append(taken, id)
	}
	return t, taken
}

// moved transposes a realization to another principal: by scale steps where
// the place offers those notes, with what the user altered altered there too,
// else by the interval between the principals.
func (own Own) moved(from, to *Ornament) Own {
	notes := slices.Clone(own.Notes)
	by := from.Principal.To(to.Principal)
	for i := range notes {
		n := &notes[i]
		there, known := to.pitchOf(n.Degree)
		here, same := from.pitchOf(n.Degree)
		if known && same {
			n.Pitch = there.WithAlter(int(there.Alter) + int(n.Pitch.Alter) - int(here.Alter))
			continue
		}
		n.Pitch = n.Pitch.Transpose(by)
	}
	own.Notes, own.Borrows = notes, nil
	return own
}

// pitchOf finds the pitch on a degree among the program's choices.
func (o *Ornament) pitchOf(degree int) (music.Pitch, bool) {
	for i := range o.Choices {
		if o.Choices[i].Key == OwnKey {
			continue
		}
		for _, n := range o.Choices[i].Notes {
			if n.Degree == degree {
				return n.Pitch, true
			}
		}
	}
	return o.Principal, degree == 0
}

func (r *Reading) find(ornamentID string) *Ornament {
	for i := range r.Ornaments {
		if r.Ornaments[i].ID == ornamentID {
			return &r.Ornaments[i]
		}
	}
	return nil
}

// decide sets an ornament's choices from the taste: the note's own decision,
// else the standing preference for its signs, else the first.
func (t *Taste) decide(o *Ornament) {
	at := func(key string) int {
		return slices.IndexFunc(o.Choices, func(c Choice) bool { return c.Key == key })
	}
	if key, ok := t.Standing[SignsKey(o.Signs)]; ok {
		o.Chosen = max(0, at(key))
	}
	if _, ok := t.Own[o.Note]; ok && o.Choices[0].Key == OwnKey {
		o.Chosen = 0
	}
	if key, ok := t.Chosen[o.Note]; ok {
		if k := at(key); k >= 0 {
			o.Chosen = k
		}
	}
	for p, key := range t.Passes {
		if k := at(key); p.Note == o.Note && k >= 0 && p.Pass > 0 {
			o.Passes = append(o.Passes, PassChoice{p.Pass, k})
		}
	}
	sorting.Stable(o.Passes, func(a, b PassChoice) int { return cmp.Compare(a.Pass, b.Pass) })
	if f, ok := t.Fingers[o.Note]; ok {
		if k := at(f.Key); k >= 0 && len(f.Fingers) == len(o.Choices[k].Notes) {
			c := &o.Choices[k]
			c.fingered(append([]Fingering{{f.Fingers, t.Words.Say("your own"), t.ownSource()}}, c.Fingerings...))
		}
	}
}

// taken lists the keys that a taste decides for a note.
func (t *Taste) taken(note score.ID, signs []string) []string {
	var keys []string
	if key, ok := t.Chosen[note]; ok {
		keys = append(keys, key)
	}
	for p, key := range t.Passes {
		if p.Note == note {
			keys = append(keys, key)
		}
	}
	if key, ok := t.Standing[SignsKey(signs)]; ok {
		keys = append(keys, key)
	}
	if f, ok := t.Fingers[note]; ok {
		keys = append(keys, f.Key)
	}
	slices.Sort(keys)
	return slices.Compact(keys)
}
