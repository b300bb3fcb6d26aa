package main

import (
	"os"
	"os/exec"
	"path/filepath"

	"agremens/cmd/agremens/program"
)

// cost returns a step that prints one of the tables of web/e2e/cost.mjs, of
// the site that was weighed and of the bare program on a page of its own.
func cost(table string) func(*check) tally {
	return func(c *check) tally {
		chromium, err := exec.LookPath("chromium")
		if err != nil {
			return one(err)
		}
		bare := filepath.Join(c.work, "bare")
		if err := c.writeBare(bare); err != nil {
			return one(err)
		}
		_, err = c.openly([]string{
			"AGREMENS_CHROMIUM=" + chromium,
			"AGREMENS_SITE=" + filepath.Join(c.work, "weighed"),
			"AGREMENS_BARE=" + bare,
		}, "node", filepath.Join("web", "e2e", "cost.mjs"), table)
		return one(err)
	}
}

// writeBare writes the bare program and a page that starts it.
func (c *check) writeBare(folder string) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	name := filepath.Join(folder, "bare.wasm")
	body, err := program.Build(c.root, barePackage, filepath.Join(c.work, "bare.wasm"), os.Stdout)
	if err != nil {
		return err
	}
	exec, err := c.nodeExec()
	if err != nil {
		return err
	}
	loader, err := os.ReadFile(filepath.Join(filepath.Dir(exec), "wasm_exec.js"))
	if err != nil {
		return err
	}
	const page = `<!doctype html><html><head><meta charset="utf-8"><title>bare</title><script src="wasm_exec.js"></script></head><body>
<p>A bare program</p><script>
const go = new Go();
WebAssembly.instantiateStreaming(fetch('bare.wasm'), go.importObject).then(({ instance }) => go.run(instance));
</script></body></html>
`
	for file, content := range map[string][]byte{
		name: body, name + ".br": pack(body),
		filepath.Join(folder, "wasm_exec.js"): loader, filepath.Join(folder, "index.html"): []byte(page),
	} {
		if err := os.WriteFile(file, content, 0o644); err != nil {
			return err
		}
	}
	return nil
}
