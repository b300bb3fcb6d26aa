package realize_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// module is the name of this module, as in go.mod.
const module = "agremens/"

// room is where a package stands. Arrows point downward only: a package
// imports packages of lower rooms, and those of its own that it names.
type room struct {
	folder  string // a package, or with "/..." all below it
	level   int    // 0 is the lowest
	pure    bool
	beside  []string // packages of the same level that it may import
	foreign []string // modules and packages that appear in this room and in no other
}

// rooms is the plan of the house, from the bottom up. A package that is not
// in it fails the test: give it a place here.
var rooms = []room{
	// Values: nothing of ours below them.
	{folder: "realize/music", level: 0, pure: true},
	{folder: "realize/words", level: 0, pure: true},
	{folder: "realize/sorting", level: 0, pure: true},
	{folder: "synth/tuning", level: 0, pure: true},
	{folder: "synth/clock", level: 0, pure: true},
	{folder: "assets", level: 0, pure: true},
	{folder: "assets/font", level: 0, pure: true},
	// Model.
	{folder: "realize/score", level: 1, pure: true},
	{folder: "realize/perf", level: 1, pure: true, beside: []string{"realize/score"}},
	// Algorithms. Codecs that write a reading out stand on realize.
	{folder: "realize", level: 2, pure: true},
	{folder: "realize/tap", level: 2, pure: true},
	{folder: "realize/hear", level: 3, pure: true},
	{folder: "realize/heard", level: 4, pure: true},
	{folder: "realize/takedown", level: 3, pure: true},
	{folder: "realize/codec/...", level: 3, pure: true, beside: []string{"realize/codec/..."}},
	{folder: "realize/codec", level: 3, pure: true, beside: []string{"realize/codec/..."}},
	{folder: "realize/sketch", level: 3, pure: true, beside: []string{"realize/codec/..."}},
	// What the program does, still pure.
	{folder: "synth", level: 4, pure: true},
	{folder: "game/engrave", level: 4, pure: true},
	{folder: "game/round", level: 4, pure: true, beside: []string{"synth"}},
	{folder: "game/export", level: 5, pure: true, beside: []string{"synth", "game/engrave"}},
	{folder: "game/look", level: 5, pure: true},
	{folder: "game/listening/ear", level: 4, pure: true},
	{folder: "game/listening", level: 5, pure: true},
	{folder: "game/place", level: 5, pure: true},
	{folder: "game/version", level: 5, pure: true},
	{folder: "game/desk", level: 5, pure: true, beside: []string{"game/round"}},
	{folder: "game/shelf", level: 5, pure: true},
	{folder: "game/paper", level: 5, pure: true, beside: []string{"game/desk"}},
	{folder: "game/diary", level: 5, pure: true},
	{folder: "game/day", level: 5, pure: true, beside: []string{"game/practice"}},
	{folder: "game/rate", level: 5, pure: true},
	{folder: "game/calibration", level: 5, pure: true},
	{folder: "game/glossary", level: 5, pure: true, beside: []string{"game/desk"}},
	{folder: "game/lesson", level: 6, pure: true},
	{folder: "game/week", level: 6, pure: true},
	{folder: "game/closeup", level: 6, pure: true, beside: []string{"game/week"}},
	{folder: "game/stairs", level: 6, pure: true},
	{folder: "game/handout", level: 6, pure: true, beside: []string{"game/week"}},
	{folder: "game/practice", level: 5, pure: true, beside: []string{"game/desk", "game/glossary"}},
	{folder: "game/conduct", level: 6, pure: true},
	{folder: "game/class", level: 6, pure: true, beside: []string{"game/lesson", "game/glossary", "game/week"}},
	{folder: "game/plan", level: 6, pure: true, beside: []string{"game/class", "game/lesson"}},
	{folder: "game/keep", level: 6, pure: true, beside: []string{"game/class"}},
	{folder: "game/studio", level: 7, pure: true},
	// Devices: one foreign interface each.
	{folder: "game/stage", level: 6, foreign: []string{"github.com/hajimehoshi/ebiten"}},
	{folder: "synth/speaker", level: 6, foreign: []string{"github.com/ebitengine/oto"}},
	{folder: "web/dom", level: 6, foreign: []string{"syscall/js"}},
	{folder: "web", level: 6},
	// Edges.
	{folder: "cmd/...", level: 8, beside: []string{"cmd/..."}},
}

// unclean are the packages that would make a pure package depend on the
// world or on chance. A package of the standard library below one of them
// counts too. math/rand is named whole: a generator is handed in as a value.
var unclean = []string{
	"os", "io/fs", "io/ioutil", "net", "syscall", "log", "time", "math/rand", "crypto/rand",
	"runtime", "plugin", "embed", "unsafe",
}

// excused lists what a pure package may import all the same, and why.
var excused = map[string]map[string]string{
	"assets":                 {"embed": "the passages are files"},
	"assets/font":            {"embed": "the outlines are a generated file"},
	"game/desk":              {"net/url": "parses addresses, opens none"},
	"game/paper":             {"net/url": "writes a form as a line"},
	"game/shelf":             {"net/url": "writes a name as a word"},
	"game/lesson":            {"net/url": "parses addresses, opens none"},
	"realize/codec/musicxml": {"net/url": "reads %20 in the names of an archive"},
}

// changing lists package variables that are assigned to after their
// declaration, and why that is harmless. None is.
var changing = map[string]string{}

// source is one file that is not a test.
type source struct {
	folder string
	name   string
	file   *ast.File
}

// sources parses all files of the module, whatever system they are for.
// Generators (//go:build ignore, main packages below assets) are tools.
func sources(t *testing.T) (*token.FileSet, []source) {
	t.Helper()
	root, err := filepath.Abs("..")
	require.NoError(t, err)
	set := token.NewFileSet()
	var all []source
	err = filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && (strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata" || d.Name() == "node_modules"):
			return filepath.SkipDir
		case d.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go"):
			return nil
		}
		data, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		file, err := parser.ParseFile(set, name, data, parser.ParseComments)
		if err != nil {
			return err
		}
		folder, err := filepath.Rel(root, filepath.Dir(name))
		if err != nil {
			return err
		}
		folder = filepath.ToSlash(folder)
		if strings.HasPrefix(folder, "assets") && file.Name.Name == "main" {
			return nil
		}
		all = append(all, source{folder, filepath.ToSlash(strings.TrimPrefix(name, root+string(filepath.Separator))), file})
		return nil
	})
	require.NoError(t, err)
	require.Greater(t, len(all), 20, "too few files found")
	return set, all
}

// roomOf returns a package's room: the longest folder that matches.
func roomOf(folder string) (room, bool) {
	var best room
	found := false
	for _, r := range rooms {
		if within(folder, r.folder) && len(r.folder) > len(best.folder) {
			best, found = r, true
		}
	}
	return best, found
}

// within reports whether a folder is the one named, or below it for "x/...".
func within(folder, pattern string) bool {
	if base, ok := strings.CutSuffix(pattern, "/..."); ok {
		return strings.HasPrefix(folder, base+"/")
	}
	return folder == pattern
}

// below reports whether an import path is name or lies below it; versions of
// a module count ("…/v2").
func below(imported, name string) bool {
	return imported == name || strings.HasPrefix(imported, name+"/")
}

func imports(f *ast.File) []string {
	var out []string
	for _, spec := range f.Imports {
		p, err := strconv.Unquote(spec.Path.Value)
		if err == nil {
			out = append(out, p)
		}
	}
	return out
}

func TestEveryPackageHasARoom(t *testing.T) {
	_, all := sources(t)
	used := map[string]bool{}
	for _, s := range all {
		r, ok := roomOf(s.folder)
		assert.True(t, ok, "%s stands in no room", s.folder)
		used[r.folder] = true
	}
	for _, r := range rooms {
		assert.True(t, used[r.folder], "the room %s is empty", r.folder)
	}
}

func TestArrowsPointDown(t *testing.T) {
	_, all := sources(t)
	for _, s := range all {
		from, _ := roomOf(s.folder)
		for _, imported := range imports(s.file) {
			folder, ours := strings.CutPrefix(imported, module)
			if !ours {
				continue
			}
			to, ok := roomOf(folder)
			if !ok {
				t.Errorf("%s imports %s, which stands in no room", s.name, folder)
				continue
			}
			beside := slices.ContainsFunc(from.beside, func(p string) bool { return within(folder, p) })
			if to.level > from.level || to.level == from.level && !beside {
				t.Errorf("%s: %s does not stand below %s", s.name, folder, s.folder)
			}
		}
	}
}

func TestForeignInterfacesStayHome(t *testing.T) {
	_, all := sources(t)
	seen := map[string]bool{}
	for _, home := range rooms {
		for _, foreign := range home.foreign {
			for _, s := range all {
				for _, imported := range imports(s.file) {
					if !below(imported, foreign) {
						continue
					}
					seen[foreign] = true
					// The browser program starts the game; that is its whole job. What
					// hears is a program without a page: it meets its worker itself.
					starts := s.folder == "cmd/agremens-web" && home.folder == "game/stage" ||
						s.folder == "cmd/agremens-ear" && foreign == "syscall/js"
					if s.folder != home.folder && !starts {
						t.Errorf("%s imports %s, which belongs to %s", s.name, imported, home.folder)
					}
				}
			}
			assert.True(t, seen[foreign], "%s is used nowhere", foreign)
		}
	}
}

func TestPurePackagesTouchNothing(t *testing.T) {
	set, all := sources(t)
	for _, s := range all {
		if r, _ := roomOf(s.folder); !r.pure {
			continue
		}
		for _, imported := range imports(s.file) {
			for _, u := range unclean {
				if below(imported, u) && excused[s.folder][imported] == "" {
					t.Errorf("%s imports %s", s.name, imported)
				}
			}
		}
		ast.Inspect(s.file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.GoStmt:
				t.Errorf("%s: a goroutine starts", set.Position(n.Pos()))
			case *ast.FuncDecl:
				if n.Recv == nil && n.Name.Name == "init" {
					t.Errorf("%s: init", set.Position(n.Pos()))
				}
			}
			return true
		})
	}
}

// Package variables of pure packages are tables: nothing assigns to them, to
// a field or to an element after their declaration.
func TestPureVariablesNeverChange(t *testing.T) {
	set, all := sources(t)
	byFolder := map[string][]source{}
	for _, s := range all {
		if r, _ := roomOf(s.folder); r.pure {
			byFolder[s.folder] = append(byFolder[s.folder], s)
		}
	}
	tables := 0
	for folder, files := range byFolder {
		vars := map[string]bool{}
		for _, s := range files {
			for _, d := range s.file.Decls {
				if g, ok := d.(*ast.GenDecl); ok && g.Tok == token.VAR {
					for _, spec := range g.Specs {
						for _, name := range spec.(*ast.ValueSpec).Names {
							vars[name.Name] = name.Name != "_"
							tables++
						}
					}
				}
			}
		}
		for _, s := range files {
			for _, d := range s.file.Decls {
				f, ok := d.(*ast.FuncDecl)
				if !ok || f.Body == nil {
					continue
				}
				local := localNames(f)
				check := func(e ast.Expr, what string) {
					id := base(e)
					if id == nil || !vars[id.Name] || local[id.Name] {
						return
					}
					if changing[path.Join(folder, id.Name)] == "" {
						t.Errorf("%s: the package variable %s is %s", set.Position(id.Pos()), id.Name, what)
					}
				}
				ast.Inspect(f.Body, func(n ast.Node) bool {
					switch n := n.(type) {
					case *ast.AssignStmt:
						if n.Tok != token.DEFINE {
							for _, e := range n.Lhs {
								check(e, "assigned to")
							}
						}
					case *ast.IncDecStmt:
						check(n.X, "counted")
					case *ast.CallExpr:
						if id, ok := n.Fun.(*ast.Ident); ok && (id.Name == "clear" || id.Name == "delete") && len(n.Args) > 0 {
							check(n.Args[0], id.Name+"ed")
						}
					}
					return true
				})
			}
		}
	}
	require.NotZero(t, tables)
}

// base returns the identifier that an expression like a.b[i].c starts with.
func base(e ast.Expr) *ast.Ident {
	for {
		switch x := e.(type) {
		case *ast.Ident:
			return x
		case *ast.IndexExpr:
			e = x.X
		case *ast.SelectorExpr:
			e = x.X
		case *ast.ParenExpr:
			e = x.X
		case *ast.StarExpr:
			e = x.X
		default:
			return nil
		}
	}
}

// localNames are the names a function declares itself: they hide the
// package's.
func localNames(f *ast.FuncDecl) map[string]bool {
	names := map[string]bool{}
	add := func(list *ast.FieldList) {
		if list == nil {
			return
		}
		for _, field := range list.List {
			for _, n := range field.Names {
				names[n.Name] = true
			}
		}
	}
	add(f.Recv)
	ast.Inspect(f, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.FuncType:
			add(n.Params)
			add(n.Results)
		case *ast.AssignStmt:
			if n.Tok == token.DEFINE {
				for _, e := range n.Lhs {
					if id, ok := e.(*ast.Ident); ok {
						names[id.Name] = true
					}
				}
			}
		case *ast.RangeStmt:
			for _, e := range []ast.Expr{n.Key, n.Value} {
				if id, ok := e.(*ast.Ident); ok && n.Tok == token.DEFINE {
					names[id.Name] = true
				}
			}
		case *ast.ValueSpec:
			for _, id := range n.Names {
				names[id.Name] = true
			}
		}
		return true
	})
	return names
}
