package main

import (
	"fmt"
	"io"
	"os"

	"agremens/cmd/agremens/site"
)

// build writes the page as a static site that any web host can serve.
func build(args []string, out, errs io.Writer) error {
	set, parse := flags("build", errs)
	dir := set.String("o", "", "write to this folder")
	quick := set.Bool("quick", false, "compress less: seconds instead of half a minute")
	operands, err := parse(args)
	if err != nil {
		return err
	}
	if *dir == "" || len(operands) > 0 {
		return wrongUse{"build needs -o DIR"}
	}
	files, err := pageFiles(errs)
	if err != nil {
		return err
	}
	quality := site.Smallest
	if *quick {
		quality = site.Quick
	}
	s, err := site.Pack(files, site.Options{HashNames: true, Quality: quality})
	if err != nil {
		return err
	}
	if err := os.MkdirAll(*dir, 0o755); err != nil {
		return fmt.Errorf("%w — choose a folder that can be written with -o", err)
	}
	if err := s.Write(*dir); err != nil {
		return err
	}
	fmt.Fprintf(out, "%-40s %12s %12s %12s\n", "file", "bytes", "gzip", "brotli")
	for _, f := range s.Files() {
		fmt.Fprintf(out, "%-40s %12d %12s %12s\n", f.Path, len(f.Raw), size(f.Gzip), size(f.Brotli))
	}
	fmt.Fprintf(out, "written to %s: copy it to any web host\n", *dir)
	return nil
}

func size(b []byte) string {
	if b == nil {
		return "-"
	}
	return fmt.Sprint(len(b))
}
