package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"strings"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// unitsPerSpace: a SMuFL em is four staff spaces, and both fonts have 1000 units an em.
const unitsPerSpace = 250

type glyph struct {
	name    string // SMuFL name, "" for a letter
	char    rune
	advance int
	box     [4]int // left, top, right, bottom; y down
	path    []byte
}

type anchor struct {
	glyph, kind string
	x, y        int
}

type tables struct {
	glyphs   []glyph
	music    int   // how many are music
	styles   []int // first glyph of each text style
	chars    []rune
	kerns    []kern
	anchors  []anchor
	defaults map[string]float64
}

type metadata struct {
	EngravingDefaults  map[string]any
	GlyphAdvanceWidths map[string]float64
	GlyphBBoxes        map[string]struct{ BBoxNE, BBoxSW [2]float64 }
	GlyphsWithAnchors  map[string]map[string][2]float64
}

func readMusic(dir, list string) (*tables, error) {
	names, err := os.ReadFile(list)
	if err != nil {
		return nil, err
	}
	raw, err := os.ReadFile(filepath.Join(dir, "metadata.json"))
	if err != nil {
		return nil, err
	}
	var meta metadata
	if err := json.Unmarshal(raw, &meta); err != nil {
		return nil, fmt.Errorf("metadata.json: %w", err)
	}
	data, err := os.ReadFile(filepath.Join(dir, "bravura.otf"))
	if err != nil {
		return nil, err
	}
	f, err := sfnt.Parse(data)
	if err != nil {
		return nil, fmt.Errorf("bravura.otf: %w", err)
	}
	t := &tables{defaults: map[string]float64{}}
	for line := range strings.Lines(string(names)) {
		code, name, ok := strings.Cut(strings.TrimSpace(line), " ")
		if !ok {
			continue
		}
		char, err := strconv.ParseUint(code, 16, 32)
		if err != nil {
			return nil, fmt.Errorf("glyphs.txt: %q: %w", line, err)
		}
		g, err := outline(f, rune(char))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		g.name = name
		// The name table and the font come from different hands: the box decides.
		b, ok := meta.GlyphBBoxes[name]
		if !ok {
			return nil, fmt.Errorf("%s: no box in the metadata", name)
		}
		want := [4]int{units(b.BBoxSW[0]), -units(b.BBoxNE[1]), units(b.BBoxNE[0]), -units(b.BBoxSW[1])}
		for i := range want {
			if d := want[i] - g.box[i]; d < -2 || d > 2 {
				return nil, fmt.Errorf("%s: outline fills %v, metadata says %v", name, g.box, want)
			}
		}
		g.box = want
		if w, ok := meta.GlyphAdvanceWidths[name]; ok {
			g.advance = units(w)
		}
		t.glyphs = append(t.glyphs, g)
		for kind, at := range meta.GlyphsWithAnchors[name] {
			t.anchors = append(t.anchors, anchor{name, kind, units(at[0]), -units(at[1])})
		}
	}
	if len(t.glyphs) == 0 {
		return nil, errors.New("glyphs.txt names no glyphs")
	}
	sort.Slice(t.anchors, func(i, j int) bool {
		a, b := t.anchors[i], t.anchors[j]
		return a.glyph < b.glyph || a.glyph == b.glyph && a.kind < b.kind
	})
	for k, v := range meta.EngravingDefaults {
		if x, ok := v.(float64); ok {
			t.defaults[k] = x
		}
	}
	t.music = len(t.glyphs)
	return t, nil
}

func units(spaces float64) int { return int(math.Round(spaces * unitsPerSpace)) }

// textChars are what tempo words, titles and expression marks need.
func textChars() []rune {
	var chars []rune
	for c := rune(' '); c <= '~'; c++ {
		chars = append(chars, c)
	}
	for c := rune(0xC0); c <= 0xFF; c++ {
		if c != 0xD7 && c != 0xF7 {
			chars = append(chars, c)
		}
	}
	return append(chars, []rune("–—‘’“”…œŒ·")...)
}

func (t *tables) addText(file string) error {
	data, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	if data, err = unwoff(data); err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	f, err := sfnt.Parse(data)
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	t.styles = append(t.styles, len(t.glyphs))
	t.chars = t.chars[:0]
	for _, c := range textChars() {
		g, err := outline(f, c)
		if err != nil {
			return fmt.Errorf("%s: %q: %w", file, c, err)
		}
		t.glyphs = append(t.glyphs, g)
		t.chars = append(t.chars, c)
	}
	return t.addKerns(f)
}

// kern is how far a pair of characters of one style moves together.
type kern struct{ style, left, right, units int }

// leastKern is the smallest move that is kept, in units: what is smaller is
// less than a fiftieth of an em.
const leastKern = 18

func (t *tables) addKerns(f *sfnt.Font) error {
	var buf sfnt.Buffer
	ppem := fixed.I(int(f.UnitsPerEm()))
	index := make([]sfnt.GlyphIndex, len(t.chars))
	for i, c := range t.chars {
		g, err := f.GlyphIndex(&buf, c)
		if err != nil {
			return err
		}
		index[i] = g
	}
	for i := range index {
		for j := range index {
			k, err := f.Kern(&buf, index[i], index[j], ppem, 0)
			if errors.Is(err, sfnt.ErrNotFound) {
				continue
			}
			if err != nil {
				return err
			}
			if n := k.Round(); n >= leastKern || n <= -leastKern {
				t.kerns = append(t.kerns, kern{len(t.styles) - 1, i, j, min(max(n, -128), 127)})
			}
		}
	}
	return nil
}

// outline reads one glyph at one pixel a font unit.
func outline(f *sfnt.Font, char rune) (glyph, error) {
	var buf sfnt.Buffer
	index, err := f.GlyphIndex(&buf, char)
	if err != nil {
		return glyph{}, err
	}
	if index == 0 {
		return glyph{}, errors.New("not in the font")
	}
	ppem := fixed.I(int(f.UnitsPerEm()))
	if f.UnitsPerEm() != 4*unitsPerSpace {
		return glyph{}, fmt.Errorf("%d units an em", f.UnitsPerEm())
	}
	segments, err := f.LoadGlyph(&buf, index, ppem, nil)
	if err != nil {
		return glyph{}, err
	}
	path, box := encode(segments)
	advance, err := f.GlyphAdvance(&buf, index, ppem, 0)
	if err != nil {
		return glyph{}, err
	}
	return glyph{char: char, advance: advance.Round(), box: box, path: path}, nil
}
