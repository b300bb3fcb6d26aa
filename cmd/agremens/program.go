package main

import (
	"fmt"
	"hash/crc32"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"agremens/cmd/agremens/po"
	"agremens/cmd/agremens/program"
	"agremens/web"
)

// pageFiles returns all files of the page by name: those of web, the packed
// catalogues of texts (words-de.txt), the manual, the browser program and the loader of the toolchain that built it.
func pageFiles(errs io.Writer) (map[string][]byte, error) {
	files, err := web.Files()
	if err != nil {
		return nil, err
	}
	catalogues, err := po.Files()
	if err != nil {
		return nil, err
	}
	maps.Copy(files, catalogues)
	if err := addManual(files, web.Folder()); err != nil {
		return nil, err
	}
	parts, err := browserProgram(errs)
	if err != nil {
		return nil, err
	}
	if parts.Uncut != nil {
		fmt.Fprintf(errs, "agremens: the browser program could not be cut in two (%v). It goes on in one part: all of it works, a first visit waits longer. DEVELOPERS.md, “The next release of Go”, says what to look at.\n", parts.Uncut)
	}
	if parts.Lines {
		fmt.Fprintln(errs, "agremens: the browser program keeps its line tables, which were not found: it is larger than it need be. DEVELOPERS.md, “The next release of Go”, says what to look at.")
	}
	ear, err := listener(errs)
	if err != nil {
		return nil, err
	}
	return completed(files, parts, ear)
}

// completed adds the program, the listener and what starts them to the page's
// files.
func completed(files map[string][]byte, parts program.Parts, ear []byte) (map[string][]byte, error) {
	err := addProgram(files, parts)
	if err != nil {
		return nil, err
	}
	if files["wasm_exec.js"], err = wasmExec(); err != nil {
		return nil, err
	}
	files["listen-ear.wasm"] = ear
	if err := drawWelcome(files); err != nil {
		return nil, err
	}
	return files, tellSize(files)
}

// tellSize writes the program's size into the page, which shows by it how far
// the download has come.
func tellSize(files map[string][]byte) error {
	const unknown = `data-wasm-bytes="0"`
	index := string(files["index.html"])
	if !strings.Contains(index, unknown) {
		return fmt.Errorf("web/index.html has no %s to put the program's size in", unknown)
	}
	known := fmt.Sprintf(`data-wasm-bytes="%d"`, len(files["agremens.wasm"]))
	files["index.html"] = []byte(strings.Replace(index, unknown, known, 1))
	return nil
}

// addProgram puts the program among the files. Where it is in one part the page
// asks for no other.
func addProgram(files map[string][]byte, p program.Parts) error {
	files["agremens.wasm"] = p.Begin
	if p.Rest != nil {
		files["agremens-rest.wasm"] = p.Rest
		return nil
	}
	for name, asks := range map[string]string{"index.html": `data-rest="agremens-rest.wasm"`, "sw.js": `'agremens-rest.wasm', `} {
		if !strings.Contains(string(files[name]), asks) {
			return fmt.Errorf("web/%s has no %s to take out", name, asks)
		}
		files[name] = []byte(strings.Replace(string(files[name]), asks, "", 1))
	}
	return nil
}

// browserProgram builds the browser program in two parts: what a first visit
// calls, and the rest. The go command knows by itself when there is nothing to
// do.
func browserProgram(errs io.Writer) (program.Parts, error) {
	root, err := sourceFolder()
	if err != nil {
		return program.Parts{}, err
	}
	target := builtProgram(root, "agremens.wasm")
	called, err := os.ReadFile(filepath.Join(root, "cmd", "agremens-web", "first-visit.txt"))
	if err != nil {
		whole, failed := program.Build(root, browserPackage, target, errs)
		return program.Parts{Begin: whole, Uncut: err}, failed
	}
	return program.BuildParts(root, browserPackage, target, program.FirstVisit(string(called)), errs)
}

// listener builds the program that listens, which is loaded when a round at the
// piano is to be heard.
func listener(errs io.Writer) ([]byte, error) {
	root, err := sourceFolder()
	if err != nil {
		return nil, err
	}
	return program.Build(root, "./cmd/agremens-ear", builtProgram(root, "listen-ear.wasm"), errs)
}

const browserPackage = "./cmd/agremens-web"

func sourceFolder() (string, error) {
	root, err := goTool("list", "-m", "-f", "{{.Dir}}", "agremens")
	if err != nil {
		return "", fmt.Errorf("the browser program is built from its source: run this inside the source folder (%w)", err)
	}
	return root, nil
}

// builtProgram names the file that a program built from the source in root is
// kept in. Two source folders may be at work at once.
func builtProgram(root, name string) string {
	cache, err := os.UserCacheDir()
	if err != nil {
		cache = os.TempDir()
	}
	return filepath.Join(cache, "agremens", fmt.Sprintf("%08x", crc32.ChecksumIEEE([]byte(root))), name)
}

// wasmExec returns the script that starts Go programs in a browser. It must
// come from the toolchain that built the program.
func wasmExec() ([]byte, error) {
	goroot, err := goTool("env", "GOROOT")
	if err != nil {
		return nil, err
	}
	return os.ReadFile(filepath.Join(goroot, "lib", "wasm", "wasm_exec.js"))
}

func goTool(args ...string) (string, error) {
	out, err := exec.Command("go", args...).Output()
	if err != nil {
		return "", fmt.Errorf("go %s: %w", strings.Join(args, " "), err)
	}
	return strings.TrimSpace(string(out)), nil
}
