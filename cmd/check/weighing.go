package main

import (
	"cmp"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"agremens/cmd/agremens/program"
)

// weighing prints what each package adds to the browser program, beside the
// same of the bare one. Code is counted by function. What is downloaded of it
// is an estimate: each package's code is compressed alone and the sum is
// scaled to what the whole code section comes to. Types, strings, tables of
// the runtime and embedded files are counted as one: the linker keeps no names
// of them.
func weighing(c *check) tally {
	ours, err := c.shares("./cmd/agremens-web")
	if err != nil {
		return one(err)
	}
	bare, err := c.shares(barePackage)
	if err != nil {
		return one(err)
	}
	rows := slices.Collect(maps.Keys(ours))
	for name := range bare {
		if _, both := ours[name]; !both {
			rows = append(rows, name)
		}
	}
	slices.SortFunc(rows, func(a, b string) int {
		return cmp.Or(cmp.Compare(ours[b].sent-bare[b].sent, ours[a].sent-bare[a].sent), strings.Compare(a, b))
	})
	fmt.Printf("%-50s %10s %9s | %10s %9s   (bytes; brotli estimated)\n", "", "ours", "brotli", "bare", "brotli")
	var small, all [2]share
	for _, name := range rows {
		o, b := ours[name], bare[name]
		all[0], all[1] = all[0].and(o), all[1].and(b)
		if max(o.sent, b.sent) < 4000 {
			small[0], small[1] = small[0].and(o), small[1].and(b)
			continue
		}
		fmt.Printf("%-50s %10d %9d | %10d %9d\n", name, o.raw, o.sent, b.raw, b.sent)
	}
	fmt.Printf("%-50s %10d %9d | %10d %9d\n", "below 4 kB each", small[0].raw, small[0].sent, small[1].raw, small[1].sent)
	fmt.Printf("%-50s %10d %9d | %10d %9d\n", "together", all[0].raw, all[0].sent, all[1].raw, all[1].sent)
	return one(nil)
}

// share is a package's part of a program: bytes, and bytes sent.
type share struct{ raw, sent int }

func (s share) and(o share) share { return share{s.raw + o.raw, s.sent + o.sent} }

// Shares of no package.
const data = "(types, strings, tables, files)"

// fast enough for a hundred packages; the estimate is scaled to the real sum.
const roughly = 6

// shares builds a program with the names of its functions and sorts its bytes.
func (c *check) shares(pkg string) (map[string]share, error) {
	packages, err := c.command(js, "go", "list", "-deps", pkg).Output()
	if err != nil {
		return nil, fmt.Errorf("go list: %w", err)
	}
	target := filepath.Join(c.work, "named.wasm")
	module, err := program.BuildNamed(c.root, pkg, target, os.Stdout)
	if err != nil {
		return nil, err
	}
	functions, err := program.Functions(module)
	if err != nil {
		return nil, err
	}
	sections, err := program.Sections(module)
	if err != nil {
		return nil, err
	}
	of := packageOf(strings.Fields(string(packages)))
	code := map[string][]byte{}
	for _, f := range functions {
		name := of(f.Name)
		code[name] = append(code[name], module[f.From:f.To]...)
	}
	result := map[string]share{}
	apart := 0
	for name, b := range code {
		result[name] = share{len(b), len(compress(b, roughly))}
		apart += result[name].sent
	}
	var extra share
	for _, s := range sections {
		switch b := module[s.From:s.To]; s.ID {
		case program.Code:
			whole := len(pack(b))
			for name, r := range result {
				result[name] = share{r.raw, int(int64(r.sent) * int64(whole) / int64(apart))}
			}
		case program.Data:
			extra = share{len(b), len(pack(b))}
		}
	}
	result[data] = extra
	return result, nil
}

// odd are the characters the linker puts an underscore for in names.
var odd = regexp.MustCompile(`[^A-Za-z0-9_.]`)

// packageOf returns what tells a function's package by its name in the module.
func packageOf(packages []string) func(function string) string {
	known := map[string]string{}
	for _, p := range packages {
		known[odd.ReplaceAllString(p, "_")] = p
	}
	known["main"] = "agremens/cmd/agremens-web"
	return func(function string) string {
		if strings.HasPrefix(function, "type_") {
			return "(comparing and hashing values)"
		}
		for at := 0; ; {
			i := strings.IndexByte(function[at:], '.')
			if i < 0 {
				return "(other)"
			}
			at += i
			if p, ok := known[function[:at]]; ok {
				return p
			}
			at++
		}
	}
}
