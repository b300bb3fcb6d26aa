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
// catalogues of texts (words-de.txt), the browser program and the loader of the toolchain that built it.
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
	if files["agremens.wasm"], files["agremens-rest.wasm"], err = browserProgram(errs); err != nil {
		return nil, err
	}
	if files["wasm_exec.js"], err = wasmExec(); err != nil {
		return nil, err
	}
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

// browserProgram builds the browser program and returns it in two parts: what
// a first visit calls, and the rest. The go command knows by itself when there
// is nothing to do.
func browserProgram(errs io.Writer) (begin, rest []byte, err error) {
	root, err := goTool("list", "-m", "-f", "{{.Dir}}", "agremens")
	if err != nil {
		return nil, nil, fmt.Errorf("the browser program is built from its source: run this inside the source folder (%w)", err)
	}
	cache, err := os.UserCacheDir()
	if err != nil {
		cache = os.TempDir()
	}
	called, err := os.ReadFile(filepath.Join(root, "cmd", "agremens-web", "first-visit.txt"))
	if err != nil {
		return nil, nil, err
	}
	// Two source folders may be at work at once.
	target := filepath.Join(cache, "agremens", fmt.Sprintf("%08x", crc32.ChecksumIEEE([]byte(root))), "agremens.wasm")
	return program.BuildParts(root, "./cmd/agremens-web", target, program.FirstVisit(string(called)), errs)
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
