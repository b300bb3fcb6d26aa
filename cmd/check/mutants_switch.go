package main

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/printer"
	"go/token"
	"go/types"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"golang.org/x/tools/go/ast/astutil"
)

// switches are the mutants of a package, compiled into it together: each is
// switched on by its number in the environment, so that the package is
// compiled once and not once for each.
type switches struct {
	places  []string // of each mutant: "realize/tap/lead.go:12:3 < negated"
	overlay string   // a file for go build's -overlay
}

//go:embed testdata/switch.go.txt
var switchSupport string

// switchOn writes pkg with its mutants into the folder to. Of its files those
// are mutated that use says.
func (c *check) switchOn(pkg, to string, use func(file string) bool) (switches, error) {
	s := switches{overlay: filepath.Join(to, "overlay.json")}
	names, err := c.command(nil, "go", "list", "-f", `{{join .GoFiles "\n"}}`, "./"+pkg).Output()
	if err != nil {
		return s, fmt.Errorf("go list %s: %w", pkg, err)
	}
	fset := token.NewFileSet()
	var files []*ast.File
	for _, name := range strings.Fields(string(names)) {
		f, err := parser.ParseFile(fset, filepath.Join(c.root, pkg, name), nil, parser.SkipObjectResolution)
		if err != nil {
			return s, err
		}
		files = append(files, f)
	}
	lookup, err := c.exports(pkg)
	if err != nil {
		return s, err
	}
	info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}}
	config := types.Config{Importer: importer.ForCompiler(fset, "gc", lookup)}
	if _, err := config.Check(pkg, fset, files, info); err != nil {
		return s, err
	}
	replace := map[string]string{}
	for _, f := range files {
		path := fset.Position(f.Package).Filename
		if !use(filepath.Base(path)) {
			continue
		}
		m := mutator{info: info, number: func(at token.Pos, change string) ast.Expr {
			p := fset.Position(at)
			s.places = append(s.places, fmt.Sprintf("%s/%s:%d:%d %s", pkg, filepath.Base(path), p.Line, p.Column, change))
			return &ast.BasicLit{Kind: token.INT, Value: strconv.Itoa(len(s.places) - 1)}
		}}
		astutil.Apply(f, m.enter, m.leave)
		replace[path] = filepath.Join(to, filepath.Base(path))
		out, err := os.Create(replace[path])
		if err != nil {
			return s, err
		}
		if err := printer.Fprint(out, fset, f); err != nil {
			return s, err
		}
		out.Close()
	}
	if len(s.places) == 0 {
		return s, fmt.Errorf("%s: nothing to mutate", pkg)
	}
	support := filepath.Join(to, "mutants.go")
	replace[filepath.Join(c.root, pkg, "zz_mutants.go")] = support
	if err := os.WriteFile(support, []byte(strings.Replace(switchSupport, "package p", "package "+files[0].Name.Name, 1)), 0o644); err != nil {
		return s, err
	}
	b, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return s, err
	}
	return s, os.WriteFile(s.overlay, b, 0o644)
}

// exports opens the compiled packages that pkg imports.
func (c *check) exports(pkg string) (importer.Lookup, error) {
	out, err := c.command(nil, "go", "list", "-export", "-deps", "-f", "{{.ImportPath}}\t{{.Export}}", "./"+pkg).Output()
	if err != nil {
		return nil, fmt.Errorf("go list -export %s: %w", pkg, err)
	}
	files := map[string]string{}
	for _, line := range strings.Split(string(out), "\n") {
		path, file, _ := strings.Cut(line, "\t")
		files[path] = file
	}
	return func(path string) (io.ReadCloser, error) { return os.Open(files[path]) }, nil
}

// mutator puts a switch in the place of each operator that can be changed: a
// comparison is negated, an arithmetic operator becomes its opposite, a sign is
// left out, and up becomes down. What is constant stays: it is known before
// the program runs.
type mutator struct {
	info   *types.Info
	number func(at token.Pos, change string) ast.Expr // of the next mutant
}

func (m mutator) enter(c *astutil.Cursor) bool {
	switch x := c.Node().(type) {
	case *ast.GenDecl:
		return x.Tok != token.CONST && x.Tok != token.TYPE
	case ast.Expr:
		return m.info.Types[x].Value == nil && !m.info.Types[x].IsType()
	}
	return true
}

var (
	comparisons = map[token.Token]bool{token.EQL: true, token.NEQ: true, token.LSS: true, token.LEQ: true, token.GTR: true, token.GEQ: true}
	arithmetic  = map[token.Token]string{token.ADD: "mutantAdd", token.SUB: "mutantSub", token.MUL: "mutantMul", token.QUO: "mutantQuo", token.REM: "mutantRem"}
)

func (m mutator) leave(c *astutil.Cursor) bool {
	call := func(f string, args ...ast.Expr) *ast.CallExpr {
		return &ast.CallExpr{Fun: ast.NewIdent(f), Args: args}
	}
	switch x := c.Node().(type) {
	case *ast.BinaryExpr:
		switch {
		case comparisons[x.Op]:
			on := call("mutantOn", m.number(x.OpPos, x.Op.String()+" negated"))
			c.Replace(&ast.ParenExpr{X: &ast.BinaryExpr{X: on, Op: token.NEQ, Y: &ast.ParenExpr{X: x}}})
		case arithmetic[x.Op] != "" && m.isReal(x):
			c.Replace(call(arithmetic[x.Op], m.number(x.OpPos, x.Op.String()+" turned"), x.X, x.Y))
		}
	case *ast.UnaryExpr:
		if x.Op == token.SUB && m.isReal(x) {
			c.Replace(call("mutantNeg", m.number(x.OpPos, "sign left out"), x.X))
		}
	case *ast.IncDecStmt:
		f := "mutantAdd"
		if x.Tok == token.DEC {
			f = "mutantSub"
		}
		one := &ast.BasicLit{Kind: token.INT, Value: "1"}
		c.Replace(&ast.AssignStmt{Lhs: []ast.Expr{x.X}, TokPos: x.TokPos, Tok: token.ASSIGN,
			Rhs: []ast.Expr{call(f, m.number(x.TokPos, x.Tok.String()+" turned"), x.X, one)}})
	}
	return true
}

// isReal reports whether an expression is a real number.
func (m mutator) isReal(e ast.Expr) bool {
	t := m.info.Types[e].Type
	if t == nil {
		return false
	}
	b, ok := t.Underlying().(*types.Basic)
	return ok && b.Info()&(types.IsInteger|types.IsFloat) != 0
}
