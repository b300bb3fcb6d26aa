// Package po reads translations as translators keep them, in gettext's PO
// files, and packs them for the page. The browser program knows the packed
// form alone.
package po

import (
	"cmp"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"

	"github.com/leonelquinteros/gotext"

	"agremens/realize/words"
	"agremens/web"
)

// decimals are the decimal signs of the languages that have a catalogue.
var decimals = map[string]string{"de": ","}

// File is a PO file's content.
type File struct {
	Language string
	Texts    []words.Text // by English text, then context
}

// Read reads a PO file. It fails where the language is not known, where a text
// stands twice or has no translation, and where a translation's {places} are
// not those of its text.
func Read(file []byte) (*File, error) {
	p := gotext.NewPo()
	p.Parse(file)
	domain := p.GetDomain()
	f := &File{Language: domain.Language}
	if decimals[f.Language] == "" {
		return nil, fmt.Errorf("po: the language %q has no decimal sign here", f.Language)
	}
	add := func(context string, all map[string]*gotext.Translation) error {
		for _, id := range slices.Sorted(maps.Keys(all)) {
			if id == "" {
				continue // the header
			}
			t, err := text(context, all[id])
			if err != nil {
				return err
			}
			f.Texts = append(f.Texts, t)
		}
		return nil
	}
	if err := add("", domain.GetTranslations()); err != nil {
		return nil, err
	}
	for context, all := range domain.GetCtxTranslations() {
		if err := add(context, all); err != nil {
			return nil, err
		}
	}
	slices.SortFunc(f.Texts, func(a, b words.Text) int {
		return cmp.Or(strings.Compare(a.English, b.English), strings.Compare(a.Context, b.Context))
	})
	// The reader of the format passes over what it cannot read.
	if n := len(entry.FindAll(file, -1)) - 1; n != len(f.Texts) {
		return nil, fmt.Errorf("po: the file has %d texts of which %d are different and whole", n, len(f.Texts))
	}
	return f, nil
}

var (
	entry = regexp.MustCompile(`(?m)^msgid\s`)
	place = regexp.MustCompile(`\{[a-z0-9+-]+\}`)
)

func text(context string, from *gotext.Translation) (words.Text, error) {
	t := words.Text{Context: context, English: from.ID, Said: from.Trs[0], Many: from.Trs[1]}
	switch {
	case t.Said == "" || from.PluralID != "" && t.Many == "":
		return t, fmt.Errorf("po: %q has no translation", t.English)
	case !samePlaces(t.English, t.Said) || from.PluralID != "" && !samePlaces(from.PluralID, t.Many):
		return t, fmt.Errorf("po: the translation of %q has other places", t.English)
	}
	return t, nil
}

func samePlaces(a, b string) bool {
	set := func(s string) []string {
		return slices.Compact(slices.Sorted(slices.Values(place.FindAllString(s, -1))))
	}
	return slices.Equal(set(a), set(b))
}

// Pack packs a PO file for the page.
func Pack(file []byte) ([]byte, error) {
	f, err := Read(file)
	if err != nil {
		return nil, err
	}
	return words.Pack(f.Language, decimals[f.Language], f.Texts), nil
}

// Files returns the packed catalogues by the names under which the page
// fetches them: words-de.txt.
func Files() (map[string][]byte, error) {
	sources, err := web.Words()
	if err != nil {
		return nil, err
	}
	return FilesOf(sources)
}

// FilesOf is [Files] of some PO files, by language.
func FilesOf(sources map[string][]byte) (map[string][]byte, error) {
	files := map[string][]byte{}
	for language, source := range sources {
		packed, err := Pack(source)
		if err != nil {
			return nil, fmt.Errorf("web/words/%s.po: %w", language, err)
		}
		files["words-"+language+".txt"] = packed
	}
	return files, nil
}

// Catalogue returns the catalogue of a language, for tests and the command
// line. English has none.
func Catalogue(language string) (*words.Catalogue, error) {
	files, err := Files()
	if err != nil {
		return nil, err
	}
	packed := files["words-"+language+".txt"]
	if packed == nil {
		return nil, fmt.Errorf("po: there is no catalogue for %q", language)
	}
	return words.Parse(packed)
}
