package main

import (
	"flag"
	"fmt"
	"io"
	"os"

	"agremens/cmd/agremens/site"
)

// build writes the page as a static site that any web host can serve.
func build(args []string, out, errs io.Writer) error {
	set, parse := flags("build", errs)
	to := siteFlags(set)
	operands, err := parse(args)
	if err != nil {
		return err
	}
	if *to.dir == "" || len(operands) > 0 {
		return wrongUse{"build needs -o DIR"}
	}
	s, err := to.pack(errs)
	if err != nil {
		return err
	}
	if err := s.Write(*to.dir); err != nil {
		return err
	}
	fmt.Fprintf(out, "%-40s %12s %12s %12s\n", "file", "bytes", "gzip", "brotli")
	for _, f := range s.Files() {
		fmt.Fprintf(out, "%-40s %12d %12s %12s\n", f.Path, len(f.Raw), size(f.Gzip), size(f.Brotli))
	}
	fmt.Fprintf(out, "written to %s: copy it to any web host\n", *to.dir)
	return nil
}

func size(b []byte) string {
	if b == nil {
		return "-"
	}
	return fmt.Sprint(len(b))
}

// destination says where the site is written and how small.
type destination struct {
	dir   *string
	quick *bool
}

// siteFlags adds its flags.
func siteFlags(set *flag.FlagSet) destination {
	return destination{
		dir:   set.String("o", "", "write to this folder"),
		quick: set.Bool("quick", false, "compress less: seconds instead of half a minute"),
	}
}

// pack builds and packs the site, its files named by their content, and makes
// the folder.
func (d destination) pack(errs io.Writer) (*site.Site, error) {
	if err := os.MkdirAll(*d.dir, 0o755); err != nil {
		return nil, fmt.Errorf("%w — choose a folder that can be written with -o", err)
	}
	files, err := pageFiles(errs)
	if err != nil {
		return nil, err
	}
	quality := site.Smallest
	if *d.quick {
		quality = site.Quick
	}
	return site.Pack(files, site.Options{HashNames: true, Quality: quality})
}
