package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/assets"
	"agremens/cmd/agremens/po"
	"agremens/cmd/agremens/site"
	"agremens/game/desk"
	"agremens/game/export"
	"agremens/game/practice"
	"agremens/realize"
	"agremens/realize/words"
	"agremens/web"
)

// manuals returns the pages of the manual and the catalogue of each language.
func manuals(t *testing.T) (pages map[string]string, catalogues map[string]*words.Catalogue, files map[string][]byte) {
	t.Helper()
	german, err := po.Catalogue("de")
	require.NoError(t, err)
	files = map[string][]byte{}
	require.NoError(t, addManual(files, web.Folder()))
	pages = map[string]string{"en": string(files["manual-en.html"]), "de": string(files["manual-de.html"])}
	for language, page := range pages {
		require.NotEmpty(t, page, language)
	}
	return pages, map[string]*words.Catalogue{"en": nil, "de": german}, files
}

// cells returns the rows of the manual's tables.
func cells(page string) [][]string {
	var rows [][]string
	tags := regexp.MustCompile(`<[^>]+>`)
	for _, row := range regexp.MustCompile(`(?s)<tr>(.*?)</tr>`).FindAllStringSubmatch(page, -1) {
		var cells []string
		for _, cell := range regexp.MustCompile(`(?s)<td>(.*?)</td>`).FindAllStringSubmatch(row[1], -1) {
			cells = append(cells, strings.ReplaceAll(tags.ReplaceAllString(cell[1], ""), "&amp;", "&"))
		}
		rows = append(rows, cells)
	}
	return rows
}

func hasRow(rows [][]string, want ...string) bool {
	for _, row := range rows {
		if len(row) >= len(want) && strings.Join(row[:len(want)], "|") == strings.Join(want, "|") {
			return true
		}
	}
	return false
}

// Every kind of round, field of an address and format stands in the manual,
// in both languages, by its name and its word.
func TestManualIsComplete(t *testing.T) {
	pages, catalogues, _ := manuals(t)
	for language, page := range pages {
		t.Run(language, func(t *testing.T) {
			c, rows := catalogues[language], cells(page)
			for _, k := range practice.Kinds() {
				assert.True(t, hasRow(rows, k.In(c).Name, k.Key), "%s, %s", k.In(c).Name, k.Key)
			}
			for _, f := range export.Formats() {
				assert.True(t, hasRow(rows, c.Say(f.Name), f.Key, f.Ending), "%s, %s", c.Say(f.Name), f.Key)
			}
			for _, field := range append([]string{"passage", "kind"}, desk.Fields()...) {
				assert.True(t, hasRow(rows, field), "the field %s", field)
			}
			for _, tr := range realize.Traditions() {
				assert.Contains(t, page, `<code translate="no">`+tr.Key+"</code>")
			}
			for _, p := range assets.Passages() {
				assert.Contains(t, page, `<code translate="no">`+p.ID+"</code>")
			}
			for _, ending := range []string{".musicxml", ".xml", ".mxl", ".abc", ".krn", ".agremens"} {
				assert.Contains(t, page, `<code translate="no">`+ending+"</code>", "a file that opens")
			}
			for _, control := range []string{"Change it", "Apply to similar places", "From a printed score", "Type in ABC", "Signs and their names", "Ossia", "Page", "Repeat signs", "Read", "Practise", "Send home", "Hear it", "Change the passage", "Undo"} {
				assert.Contains(t, page, strings.TrimSuffix(c.Say(control), " …"), "the control as the page calls it")
			}
		})
	}
}

// The two languages have the same sections, tables and pictures.
func TestManualsAreAlike(t *testing.T) {
	pages, _, _ := manuals(t)
	for _, tag := range []string{"<h2", "<h3", "<table", "<tr", "<img", "<li", "<code"} {
		assert.Equal(t, strings.Count(pages["en"], tag), strings.Count(pages["de"], tag), tag)
	}
}

func TestManualPage(t *testing.T) {
	pages, _, files := manuals(t)
	for language, page := range pages {
		t.Run(language, func(t *testing.T) {
			assert.Contains(t, page, `<html lang="`+language+`">`)
			assert.Contains(t, page, site.PagePolicy)
			assert.NotRegexp(t, `<script|<style| style=|\son[a-z]+=|https?://`, page, "the policy forbids it")
			assert.Equal(t, 1, strings.Count(page, "<h1"))
			assert.Contains(t, page, `<a href="./">`, "the way back")
			pictures := regexp.MustCompile(`<img [^>]*src="([^"]+)" alt="([^"]*)"`).FindAllStringSubmatch(page, -1)
			assert.Len(t, pictures, 3)
			for _, p := range pictures {
				assert.NotEmpty(t, files[p[1]], p[1])
				assert.Greater(t, len(p[2]), 20, "a picture says what it shows")
			}
		})
	}
}

// A visitor who does not ask for the manual is sent nothing of it; one who has
// read it has it without a network.
func TestManualIsKeptOnUse(t *testing.T) {
	_, _, manual := manuals(t)
	files, err := web.Files()
	require.NoError(t, err)
	install, _, _ := strings.Cut(string(files["sw.js"]), "];")
	assert.NotContains(t, install, "manual")
	for name := range manual {
		assert.Contains(t, string(files["sw.js"]), "'"+name+"'")
	}
	assert.NotContains(t, string(files["style.css"]), ".manual", "its style is its own")
	assert.NotRegexp(t, `<(link|img|script)[^>]*manual`, string(files["index.html"]))
}

func TestManualRefuses(t *testing.T) {
	for _, c := range []struct{ name, language, text, says string }{
		{"no heading", "en", "Hello\n", "heading"},
		{"only a heading", "en", "# Hello", "heading"},
		{"another language", "fr", "# Bonjour\n", "words"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := manualPage(c.language, []byte(c.text))
			assert.ErrorContains(t, err, c.says)
		})
	}
}

// The front door can be read in two minutes, and every door behind it opens.
func TestReadme(t *testing.T) {
	const root = "../.."
	text, err := os.ReadFile(filepath.Join(root, "README.md"))
	require.NoError(t, err)
	assert.LessOrEqual(t, len(strings.Fields(string(text))), 350)
	begin, _, _ := strings.Cut(string(text), "\n![")
	assert.Contains(t, begin, "It is for teachers", "whom it is for stands before the first picture")
	assert.Contains(t, string(text), "go run ./cmd/check", "the tests")
	links := regexp.MustCompile(`\]\(([^)]+)\)`).FindAllStringSubmatch(string(text), -1)
	require.Greater(t, len(links), 5)
	for _, link := range links {
		_, err := os.Stat(filepath.Join(root, link[1]))
		assert.NoError(t, err, link[1])
	}
	goMod, err := os.ReadFile(filepath.Join(root, "go.mod"))
	require.NoError(t, err)
	version := regexp.MustCompile(`(?m)^go (\d+\.\d+)`).FindStringSubmatch(string(goMod))
	assert.Contains(t, string(text), "Go "+version[1])
}
