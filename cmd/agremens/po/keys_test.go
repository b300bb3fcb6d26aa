package po_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"

	"agremens/realize/words"
)

// textsMark stands above a declaration whose strings are texts: all of them
// but the keys of maps, or those of the fields that it names. "in:interval"
// after it gives them a context.
const textsMark = "//words:texts"

var onlyPlaces = regexp.MustCompile(`\{[^}]*\}`)

// gathered are the texts of the program, by context and English; the
// translation of those that are counted has a second form.
type gathered map[[2]string]words.Text

func (g gathered) add(t words.Text) {
	if !strings.ContainsFunc(onlyPlaces.ReplaceAllString(t.English, ""), unicode.IsLetter) {
		return // nothing to translate
	}
	if g[[2]string{t.Context, t.English}].Many == "" || t.Many != "" {
		g[[2]string{t.Context, t.English}] = t
	}
}

func (g gathered) sorted() []words.Text {
	return slices.SortedFunc(maps.Values(g), func(a, b words.Text) int { return strings.Compare(a.English+a.Context, b.English+b.Context) })
}

// programTexts gathers the texts of the Go files below some folders, tests
// left out.
func programTexts(t *testing.T, folders ...string) gathered {
	root, err := filepath.Abs("../../..")
	require.NoError(t, err)
	all, set, files := gathered{}, token.NewFileSet(), 0
	err = filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && (strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata" || d.Name() == "node_modules"):
			return filepath.SkipDir
		case d.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") ||
			strings.Contains(filepath.ToSlash(name), "realize/words/"):
			return nil
		}
		below, err := filepath.Rel(root, name)
		if err != nil {
			return err
		}
		if !slices.ContainsFunc(folders, func(f string) bool { return strings.HasPrefix(filepath.ToSlash(below), f+"/") }) {
			return nil
		}
		file, err := parser.ParseFile(set, name, nil, parser.ParseComments)
		if err != nil {
			return err
		}
		files++
		all.said(file)
		all.marked(file)
		return nil
	})
	require.NoError(t, err)
	require.Greater(t, files, 100, "too few files found")
	return all
}

// said gathers the texts in calls of Say, In and Count.
func (g gathered) said(file *ast.File) {
	ast.Inspect(file, func(n ast.Node) bool {
		call, ok := n.(*ast.CallExpr)
		if !ok {
			return true
		}
		callee, ok := call.Fun.(*ast.SelectorExpr)
		if !ok {
			if f, ok := call.Fun.(*ast.Ident); ok {
				g.codec(file, f.Name, call)
			}
			return true
		}
		g.codec(file, callee.Sel.Name, call)
		arg := func(i int) string {
			if i >= len(call.Args) {
				return ""
			}
			return literal(call.Args[i])
		}
		switch callee.Sel.Name {
		case "Say":
			g.add(words.Text{English: arg(0)})
		case "say":
			if file.Name.Name != "main" { // there it shows a message
				g.add(words.Text{English: arg(0)})
			}
		case "Errorf":
			if from, ok := callee.X.(*ast.Ident); ok && from.Name == "words" {
				g.add(words.Text{English: arg(1)})
			}
		case "In", "in":
			g.add(words.Text{Context: arg(0), English: arg(1)})
		case "Count":
			if arg(2) == "" {
				return true // another package's
			}
			g.add(words.Text{English: arg(1), Many: arg(2)})
		}
		return true
	})
}

// codec gathers what the readers of scores complain of: in their packages
// every sentence among the arguments of these functions.
func (g gathered) codec(file *ast.File, callee string, call *ast.CallExpr) {
	if !slices.Contains([]string{"abc", "kern", "musicxml"}, file.Name.Name) || !slices.Contains([]string{"fail", "fileError", "warn", "warnTie", "Add"}, callee) {
		return
	}
	for _, a := range call.Args {
		if text := literal(a); strings.Contains(text, " ") {
			g.add(words.Text{English: text})
		}
	}
}

// marked gathers the texts of declarations under the mark.
func (g gathered) marked(file *ast.File) {
	for _, d := range file.Decls {
		doc, node := (*ast.CommentGroup)(nil), ast.Node(d)
		switch d := d.(type) {
		case *ast.GenDecl:
			doc = d.Doc
		case *ast.FuncDecl:
			doc, node = d.Doc, d.Body
		}
		if doc == nil {
			continue
		}
		for _, c := range doc.List {
			if fields, ok := strings.CutPrefix(c.Text, textsMark); ok {
				context, names := "", strings.Fields(fields)
				if len(names) > 0 && strings.HasPrefix(names[0], "in:") {
					context, names = names[0][len("in:"):], names[1:]
				}
				g.strings(node, context, names)
			}
		}
	}
}

func (g gathered) strings(node ast.Node, context string, fields []string) {
	ast.Inspect(node, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.KeyValueExpr:
			if name, ok := n.Key.(*ast.Ident); ok && slices.Contains(fields, name.Name) {
				g.add(words.Text{Context: context, English: literal(n.Value)})
			}
			g.strings(n.Value, context, fields) // the key of a map is no text
			return false
		case *ast.AssignStmt:
			for i, to := range n.Lhs {
				if field, ok := to.(*ast.SelectorExpr); ok && slices.Contains(fields, field.Sel.Name) && i < len(n.Rhs) {
					g.add(words.Text{Context: context, English: literal(n.Rhs[i])})
				}
			}
		case *ast.CaseClause:
			for _, s := range n.Body {
				g.strings(s, context, fields) // what is compared is no text
			}
			return false
		case *ast.IndexExpr:
			return false
		case *ast.CallExpr:
			callee, ok := n.Fun.(*ast.SelectorExpr)
			return !ok || callee.Sel.Name != "In" && callee.Sel.Name != "in" // its first text is a context
		case *ast.BinaryExpr:
			if n.Op != token.ADD {
				return false
			}
			if text := literal(n); text != "" && len(fields) == 0 {
				g.add(words.Text{Context: context, English: text})
				return false
			}
		case *ast.BasicLit:
			if len(fields) == 0 {
				g.add(words.Text{Context: context, English: literal(n)})
			}
		}
		return true
	})
}

// literal returns the text of a string literal, or of some joined by +.
func literal(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.BasicLit:
		if e.Kind == token.STRING {
			s, _ := strconv.Unquote(e.Value)
			return s
		}
	case *ast.BinaryExpr:
		a, b := literal(e.X), literal(e.Y)
		if e.Op == token.ADD && a != "" && b != "" {
			return a + b
		}
	}
	return ""
}
