package po_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sentence is what only people read: a capital, three words, a full stop.
var sentence = regexp.MustCompile(`^[A-Z][\w'’]*( [^ ]+){2,}[.!?]$`)

// No function gives back a sentence of English that went past the catalogue:
// the other test would never see it.
func TestSentencesGoThroughTheCatalogue(t *testing.T) {
	looked := 0
	for _, folder := range []string{"realize", "game", "synth"} {
		err := filepath.WalkDir(filepath.Join("../../..", folder), func(name string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
				return err
			}
			set := token.NewFileSet()
			file, err := parser.ParseFile(set, name, nil, parser.ParseComments)
			require.NoError(t, err)
			for _, decl := range file.Decls {
				f, ok := decl.(*ast.FuncDecl)
				if !ok || f.Body == nil || f.Doc != nil && strings.Contains(docText(f.Doc), textsMark) {
					continue
				}
				looked++
				ast.Inspect(f.Body, func(n ast.Node) bool {
					r, ok := n.(*ast.ReturnStmt)
					if !ok {
						return true
					}
					for _, result := range r.Results {
						if text := literal(result); sentence.MatchString(text) {
							assert.Fail(t, "English past the catalogue", "%s: %q", set.Position(r.Pos()), text)
						}
					}
					return true
				})
			}
			return nil
		})
		require.NoError(t, err)
	}
	assert.Greater(t, looked, 1000, "too few functions found")
}

func docText(doc *ast.CommentGroup) string {
	var all []string
	for _, c := range doc.List {
		all = append(all, c.Text)
	}
	return strings.Join(all, "\n")
}
