package site

import (
	"os"
	"path/filepath"
)

// Write writes the site below dir, each file with its compressed forms
// beside it (".br", ".gz"). A file appears under its name only when it is whole.
func (s *Site) Write(dir string) error {
	for _, f := range s.Files() {
		name := filepath.Join(dir, filepath.FromSlash(f.Path))
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			return err
		}
		for suffix, body := range map[string][]byte{"": f.Raw, ".br": f.Brotli, ".gz": f.Gzip} {
			if body == nil {
				continue
			}
			if err := writeWhole(name+suffix, body); err != nil {
				return err
			}
		}
	}
	return nil
}

func writeWhole(name string, body []byte) error {
	tmp, err := os.CreateTemp(filepath.Dir(name), ".partly-*")
	if err != nil {
		return err
	}
	defer os.Remove(tmp.Name())
	if _, err := tmp.Write(body); err != nil {
		tmp.Close()
		return err
	}
	if err := tmp.Close(); err != nil {
		return err
	}
	if err := os.Chmod(tmp.Name(), 0o644); err != nil {
		return err
	}
	return os.Rename(tmp.Name(), name)
}
