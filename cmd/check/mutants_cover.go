package main

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"path"
	"path/filepath"
	"strings"
)

// widen adds to a coverage profile of the package in the folder dir blocks for
// what Go's profiles leave out: the conditions of the cases of a switch that
// is run, and the values of the package's variables and constants, which are
// worked out before any test.
func widen(profile []byte, dir string) []byte {
	covered := map[string][]extent{}
	names := map[string]string{} // as the profile has them, by file name
	for line := range strings.Lines(string(profile)) {
		name, rest, ok := strings.Cut(strings.TrimSpace(line), ".go:")
		if !ok {
			continue
		}
		name += ".go"
		names[path.Base(name)] = name
		if e, count, ok := parseExtent(rest); ok && count > 0 {
			covered[name] = append(covered[name], e)
		}
	}
	out := bytes.NewBuffer(bytes.TrimRight(profile, "\n"))
	out.WriteByte('\n')
	for base, name := range names {
		files := token.NewFileSet()
		file, err := parser.ParseFile(files, filepath.Join(dir, base), nil, 0)
		if err != nil {
			continue
		}
		for _, e := range leftOut(files, file, covered[name]) {
			fmt.Fprintf(out, "%s:%d.%d,%d.%d 1 1\n", name, e.from.line, e.from.column, e.to.line, e.to.column)
		}
	}
	return out.Bytes()
}

type place struct{ line, column int }

func (p place) before(q place) bool {
	return p.line < q.line || p.line == q.line && p.column < q.column
}

// extent reaches from one place up to another.
type extent struct{ from, to place }

func (e extent) holds(p place) bool { return !p.before(e.from) && !e.to.before(p) }

// parseExtent reads "12.5,14.2 3 1": from, to, statements, count.
func parseExtent(s string) (e extent, count int, ok bool) {
	var statements int
	n, err := fmt.Sscanf(s, "%d.%d,%d.%d %d %d", &e.from.line, &e.from.column, &e.to.line, &e.to.column, &statements, &count)
	return e, count, err == nil && n == 6
}

// leftOut lists the stretches of a file that run although no block holds them.
func leftOut(files *token.FileSet, file *ast.File, covered []extent) []extent {
	at := func(pos token.Pos) place {
		p := files.Position(pos)
		return place{p.Line, p.Column}
	}
	runs := func(pos token.Pos) bool {
		for _, e := range covered {
			if e.holds(at(pos)) {
				return true
			}
		}
		return false
	}
	var out []extent
	add := func(n ast.Node) { out = append(out, extent{at(n.Pos()), at(n.End())}) }
	ast.Inspect(file, func(n ast.Node) bool {
		if n, ok := n.(*ast.SwitchStmt); ok && runs(n.Pos()) {
			for _, s := range n.Body.List {
				for _, e := range s.(*ast.CaseClause).List {
					add(e)
				}
			}
		}
		return true
	})
	for _, d := range file.Decls {
		if d, ok := d.(*ast.GenDecl); ok && (d.Tok == token.VAR || d.Tok == token.CONST) {
			operators(d, add)
		}
	}
	return out
}

// operators calls add for each expression with an operator in a declaration,
// outside the functions that are written there.
func operators(d *ast.GenDecl, add func(ast.Node)) {
	ast.Inspect(d, func(n ast.Node) bool {
		switch n.(type) {
		case *ast.FuncLit:
			return false
		case *ast.BinaryExpr, *ast.UnaryExpr:
			add(n)
		}
		return true
	})
}
