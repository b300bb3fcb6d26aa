package paper

import (
	"fmt"
	"net/url"
	"strconv"
	"strings"

	"agremens/game/desk"
	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/sketch"
	"agremens/realize/words"
)

// Form is what the fields hold. A form is complete from the start: the first
// one is a trill that can be heard at once.
type Form struct{ held map[string]string }

// New returns the form as it is offered the first time.
func New() *Form {
	f := &Form{map[string]string{}}
	for _, field := range Fields(music.EnglishNames, nil) {
		f.held[field.Name] = field.first
	}
	return f
}

// Get returns what a field holds.
func (f *Form) Get(name string) string { return f.held[name] }

// Set puts a value into a field; one that the field does not offer leaves it
// as it was.
func (f *Form) Set(name, value string) {
	for _, field := range Fields(music.EnglishNames, nil) {
		if field.Name == name && field.takes(value) {
			f.held[name] = value
		}
	}
}

// longestText is what a field without options may hold, in bytes.
const longestText = 200

func (field *Field) takes(value string) bool {
	for _, o := range field.Options {
		if o.Key == value {
			return true
		}
	}
	return len(field.Options) == 0 && len(value) <= longestText
}

// Move moves the note by so many places of the staff, within the keyboard.
func (f *Form) Move(by int) {
	if p, err := music.ParsePitch(f.held["note"]); err == nil {
		n := min(highest, max(lowest, p.Diatonic()+by))
		f.held["note"] = music.FromDiatonic(n, 0).String()
	}
}

// Save writes the form as one line; Load reads it, and leaves out what is no
// longer offered.
func (f *Form) Save() string {
	v := url.Values{}
	for name, value := range f.held {
		v.Set(name, value)
	}
	return v.Encode()
}

// Load returns the form of a saved line.
func Load(saved string) *Form {
	f := New()
	v, err := url.ParseQuery(saved)
	if err != nil {
		return f
	}
	for name := range v {
		f.Set(name, v.Get(name))
	}
	return f
}

// Title is the name given, else the sign and the note.
func (f *Form) Title() string {
	if name := strings.TrimSpace(f.held["name"]); name != "" {
		return name
	}
	sign, _ := desk.FindSign(f.held["sign"])
	p := f.note()
	name := music.EnglishNames.Name(p)
	return strings.ToUpper(sign.Name[:1]) + sign.Name[1:] + " on " + name
}

func (f *Form) key() music.Key {
	fifths, word, _ := strings.Cut(f.held["key"], " ")
	n, _ := strconv.Atoi(fifths)
	mode := music.Major
	if word == "minor" {
		mode = music.Minor
	}
	return music.Key{Fifths: int8(n), Mode: mode}
}

// altered gives a pitch the alteration a field asks for, "" the key's.
func (f *Form) altered(p music.Pitch, field string) music.Pitch {
	if n, err := strconv.Atoi(f.held[field]); err == nil {
		return p.WithAlter(n)
	}
	return p.WithAlter(f.key().Alter(p.Step))
}

func (f *Form) note() music.Pitch {
	p, _ := music.ParsePitch(f.held["note"])
	return f.altered(p, "alter")
}

func (f *Form) neighbour(field string) *music.Pitch {
	steps, err := strconv.Atoi(f.held[field])
	if err != nil {
		return nil
	}
	p := f.altered(f.note().Neighbour(steps, f.key()), field+"-alter")
	if steps == 0 && f.held[field+"-alter"] == "" {
		p = f.note()
	}
	return &p
}

var valueTypes = map[string]score.ValueType{
	"whole": score.Whole, "half": score.Half, "quarter": score.Quarter, "eighth": score.Eighth, "16th": score.N16th,
}

// ErrTempo says that the tempo is none.
var ErrTempo = words.Errorf(nil, "the tempo is a number of beats per minute between 10 and 400, or empty")

// Passage makes the two bars, and names the note they are about. The error is
// for the reader.
func (f *Form) Passage() (*score.Passage, score.ID, error) {
	place, err := f.place()
	if err != nil {
		return nil, "", err
	}
	p, id, err := place.Passage()
	if err != nil {
		return nil, "", err
	}
	p.Title = f.Title()
	sign, _ := desk.FindSign(f.held["sign"])
	if p, err = sign.On(p, id); err != nil {
		return nil, "", err
	}
	if word := f.held["accidental"]; word != "" && sign.Small == nil {
		if p, err = p.WithSignAccidental(id, word, f.held["side"] == "below"); err != nil {
			return nil, "", err
		}
	}
	return p, id, nil
}

func (f *Form) place() (sketch.Place, error) {
	p := sketch.Place{Key: f.key(), Note: f.note(), Before: f.neighbour("before"), After: f.neighbour("after")}
	if _, err := fmt.Sscanf(f.held["metre"], "%d/%d", &p.Metre.Beats, &p.Metre.Unit); err != nil {
		return p, err
	}
	if text := strings.TrimSpace(f.held["tempo"]); text != "" {
		beats, err := strconv.ParseFloat(text, 64)
		if err != nil || !(beats >= 10 && beats <= 400) {
			return p, ErrTempo
		}
		p.Tempo = beats * p.Metre.Beat().Float()
	}
	p.Year, _ = strconv.Atoi(f.held["year"])
	p.Value.Type = valueTypes[f.held["value"]]
	if f.held["dot"] != "" {
		p.Value.Dots = 1
	}
	p.Tied.Type = valueTypes[f.held["tied"]]
	p.SlurBefore = p.Before != nil && f.held["slur-before"] != ""
	p.SlurAfter = p.After != nil && f.held["slur-after"] != ""
	for _, r := range sketch.Rhythms() {
		if r.Name == f.held["beneath"] {
			p.Beneath = r.Rhythm
		}
	}
	if bass, err := music.ParsePitch(f.held["bass"]); err == nil {
		bass = bass.WithAlter(f.key().Alter(bass.Step))
		p.Bass = &bass
	}
	return p, nil
}
