package main

import (
	"bytes"
	"fmt"
	"html"
	"io/fs"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"

	"agremens/cmd/agremens/site"
	"agremens/web"
)

// manualWords are what is around the manual's text in its language.
type manualWords struct{ back, other, otherName, otherPage string }

var manualLanguages = map[string]manualWords{
	"en": {"Back to the program", "de", "Deutsch", "manual-de.html"},
	"de": {"Zurück zum Programm", "en", "English", "manual-en.html"},
}

// addManual puts the manual among the files: a page of its own for each
// language, with its style and pictures. Nothing of it is part of a first visit.
func addManual(files map[string][]byte, folder fs.FS) error {
	manual, err := web.ManualOf(folder)
	if err != nil {
		return err
	}
	for language, text := range manual.Texts {
		page, err := manualPage(language, text)
		if err != nil {
			return fmt.Errorf("web/manual/%s.md: %w", language, err)
		}
		files["manual-"+language+".html"] = page
	}
	for name, file := range manual.Beside {
		files["manual-"+name] = file
	}
	return nil
}

// manualPage writes Markdown as a page that obeys the program's policy. Its
// first heading is its title.
func manualPage(language string, text []byte) ([]byte, error) {
	w, known := manualLanguages[language]
	if !known {
		return nil, fmt.Errorf("there are no words for what stands around it")
	}
	title, _, found := bytes.Cut(bytes.TrimPrefix(text, []byte("# ")), []byte("\n"))
	if !found || !bytes.HasPrefix(text, []byte("# ")) {
		return nil, fmt.Errorf("it begins with no heading")
	}
	var body bytes.Buffer
	markdown := goldmark.New(goldmark.WithExtensions(extension.Table), goldmark.WithParserOptions(parser.WithAutoHeadingID()))
	if err := markdown.Convert(text, &body); err != nil {
		return nil, err
	}
	content := bytes.ReplaceAll(body.Bytes(), []byte(`<img src="`), []byte(`<img src="manual-`))
	content = bytes.ReplaceAll(content, []byte("<code>"), []byte(`<code translate="no">`))
	content = bytes.ReplaceAll(content, []byte("<th>"), []byte(`<th scope="col">`))
	var b bytes.Buffer
	fmt.Fprintf(&b, `<!doctype html>
<html lang="%s">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="%s">
<title>%s</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<link rel="icon" href="icon.svg" type="image/svg+xml">
<link rel="stylesheet" href="style.css">
<link rel="stylesheet" href="manual-manual.css">
</head>
<body class="manual">
<nav><a href="./">%s</a> <a href="%s" lang="%s" hreflang="%s" translate="no">%s</a></nav>
<main>
%s<p><a href="./">%s</a></p>
</main>
</body>
</html>
`, language, site.PagePolicy, html.EscapeString(string(title)), w.back, w.otherPage, w.other, w.other, w.otherName, content, w.back)
	return b.Bytes(), nil
}
