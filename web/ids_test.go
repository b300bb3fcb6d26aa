package web_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Where the program and its scripts are, from here.
const (
	programFiles = "../cmd/agremens-web/*_js.go"
	domFiles     = "dom/*.go"
)

// What the program and the scripts name stands in the markup, and every control
// of the markup is named by one of them: what is misspelt on either side would
// do nothing, and say nothing.
func TestIDsMeet(t *testing.T) {
	markup, controls, mentioned := markupIDs(t)
	used := programIDs(t)
	used.scripts(t)
	for id, where := range used.whole {
		assert.True(t, markup[id], "%s names the id %q, which the markup lacks", where, id)
	}
	for part, where := range used.begin {
		assert.True(t, some(markup, func(id string) bool { return strings.HasPrefix(id, part) }), "%s: no id begins with %q", where, part)
	}
	for part, where := range used.end {
		assert.True(t, some(markup, func(id string) bool { return strings.HasSuffix(id, part) }), "%s: no id ends with %q", where, part)
	}
	for _, id := range slices.Sorted(maps.Keys(controls)) {
		named := used.whole[id] != "" || mentioned[id] ||
			some(used.begin, func(part string) bool { return strings.HasPrefix(id, part) }) ||
			some(used.end, func(part string) bool { return strings.HasSuffix(id, part) })
		assert.True(t, named, "nothing names the control %q of the markup", id)
	}
}

func some[V any](m map[string]V, holds func(string) bool) bool {
	for key := range m {
		if holds(key) {
			return true
		}
	}
	return false
}

var (
	markupID = regexp.MustCompile(`\sid="([^"]+)"`)
	// control finds what is touched; what submits closes its own sheet.
	control = regexp.MustCompile(`<(?:button|input|select|textarea|progress|output|dialog)\b[^>]*>`)
	submits = regexp.MustCompile(`\stype="submit"`)
	// mention finds ids that the markup itself names.
	mention = regexp.MustCompile(`\s(?:for|list|href|aria-labelledby|aria-describedby|aria-controls|form)="#?([^"]+)"`)
	help    = regexp.MustCompile(`\sdata-help="([^"]+)"`)
	styled  = regexp.MustCompile(`#([a-z][a-z0-9-]*)`)
	// scripted finds ids in scripts.
	scripted = regexp.MustCompile(`(?:getElementById|byId)\('([^']+)'\)|['" ]#([a-z][a-z0-9-]*)`)
)

// markupIDs returns the ids of the page, those of its controls, and those that
// markup or style name themselves.
func markupIDs(t *testing.T) (ids, controls, mentioned map[string]bool) {
	t.Helper()
	ids, controls, mentioned = map[string]bool{}, map[string]bool{}, map[string]bool{}
	for _, file := range files(t, "index.html", "page/*.html") {
		text := read(t, file)
		for _, m := range markupID.FindAllStringSubmatch(text, -1) {
			ids[m[1]] = true
		}
		for _, tag := range control.FindAllString(text, -1) {
			if m := markupID.FindStringSubmatch(tag); m != nil && !submits.MatchString(tag) {
				controls[m[1]] = true
			}
		}
		for _, m := range mention.FindAllStringSubmatch(text, -1) {
			for _, id := range strings.Fields(m[1]) {
				mentioned[id] = true
			}
		}
		for _, m := range help.FindAllStringSubmatch(text, -1) {
			mentioned["help-"+m[1]] = true
		}
	}
	for _, file := range files(t, "style.css", "style/*.css") {
		for _, m := range styled.FindAllStringSubmatch(read(t, file), -1) {
			mentioned[m[1]] = true
		}
	}
	require.NotEmpty(t, controls)
	return ids, controls, mentioned
}

// named are ids and parts of ids that are put together, with where that is.
type named struct{ whole, begin, end map[string]string }

// programIDs collects the ids that the program hands to functions which take
// one: those with a parameter called id, sheet or pad.
func programIDs(t *testing.T) named {
	t.Helper()
	set := token.NewFileSet()
	takes := map[string][]int{} // places of ids among a function's arguments
	var parsed []*ast.File
	for _, file := range files(t, domFiles, programFiles) {
		f, err := parser.ParseFile(set, file, nil, 0)
		require.NoError(t, err)
		parsed = append(parsed, f)
		for _, d := range f.Decls {
			if fn, ok := d.(*ast.FuncDecl); ok {
				if at := idParameters(fn); len(at) > 0 {
					takes[fn.Name.Name] = at
				}
			}
		}
	}
	require.Contains(t, takes, "SetText")
	n := named{map[string]string{}, map[string]string{}, map[string]string{}}
	for _, f := range parsed {
		ast.Inspect(f, func(node ast.Node) bool {
			switch node := node.(type) {
			case *ast.CallExpr:
				for _, at := range takes[called(node)] {
					if at < len(node.Args) {
						n.take(node.Args[at], set.Position(node.Pos()).String())
					}
				}
			case *ast.RangeStmt: // for _, id := range []string{…}, or keys of a map
				n.takeRange(node, set.Position(node.Pos()).String())
			}
			return true
		})
	}
	require.NotEmpty(t, n.whole)
	return n
}

func idParameters(fn *ast.FuncDecl) (at []int) {
	i := 0
	for _, field := range fn.Type.Params.List {
		for _, name := range field.Names {
			if typ, ok := field.Type.(*ast.Ident); ok && typ.Name == "string" && slices.Contains([]string{"id", "sheet", "pad"}, name.Name) {
				at = append(at, i)
			}
			i++
		}
	}
	return at
}

// called is the name of what is called, whoever's it is.
func called(c *ast.CallExpr) string {
	switch f := c.Fun.(type) {
	case *ast.Ident:
		return f.Name
	case *ast.SelectorExpr:
		return f.Sel.Name
	}
	return ""
}

// take takes an argument: an id, or one that is put together of parts.
func (n named) take(e ast.Expr, where string) {
	switch e := e.(type) {
	case *ast.BasicLit:
		if text := literal(e); text != "" {
			n.whole[text] = where
		}
	case *ast.BinaryExpr:
		if first := literal(e.X); first != "" {
			n.begin[first] = where
		}
		if last := literal(e.Y); last != "" {
			n.end[last] = where
		}
	}
}

func (n named) takeRange(r *ast.RangeStmt, where string) {
	list, ok := r.X.(*ast.CompositeLit)
	if !ok {
		return
	}
	_, keyed := list.Type.(*ast.MapType)
	variable := r.Value
	if keyed {
		variable = r.Key
	}
	if id, ok := variable.(*ast.Ident); !ok || id.Name != "id" {
		return
	}
	for _, e := range list.Elts {
		if pair, ok := e.(*ast.KeyValueExpr); ok {
			e = pair.Key
		}
		if text := literal(e); text != "" {
			n.whole[text] = where
		}
	}
}

// literal is the text of a literal, "" for anything else.
func literal(e ast.Expr) string {
	lit, ok := e.(*ast.BasicLit)
	if !ok || lit.Kind != token.STRING {
		return ""
	}
	text, _ := strconv.Unquote(lit.Value)
	return text
}

// scripts adds the ids that scripts name.
func (n named) scripts(t *testing.T) {
	t.Helper()
	for _, file := range files(t, "*.js") {
		for _, m := range scripted.FindAllStringSubmatch(read(t, file), -1) {
			n.whole[m[1]+m[2]] = file
		}
	}
}

func files(t *testing.T, patterns ...string) []string {
	t.Helper()
	var all []string
	for _, pattern := range patterns {
		found, err := filepath.Glob(pattern)
		require.NoError(t, err)
		require.NotEmpty(t, found, pattern)
		for _, file := range found {
			if !strings.HasSuffix(file, "_test.go") {
				all = append(all, file)
			}
		}
	}
	return all
}

func read(t *testing.T, file string) string {
	t.Helper()
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	return string(data)
}
