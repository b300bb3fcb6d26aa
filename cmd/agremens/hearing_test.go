package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// TestRecordings listens to all recordings of a folder as the reference's
// protocol lays it down (NAME.wav, NAME.expect.json, NAME.speaker.wav) and
// writes NAME.out.json into another, for its scorer:
//
//	AGREMENS_RECORDINGS=DIR AGREMENS_HEARD=DIR go test -run Recordings -timeout 1h ./cmd/agremens
func TestRecordings(t *testing.T) {
	folder, out := os.Getenv("AGREMENS_RECORDINGS"), os.Getenv("AGREMENS_HEARD")
	if folder == "" || out == "" {
		t.Skip("AGREMENS_RECORDINGS and AGREMENS_HEARD name no folders: the recordings are not judged")
	}
	require.NoError(t, os.MkdirAll(out, 0o755))
	files, err := filepath.Glob(filepath.Join(folder, "*.expect.json"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		name := strings.TrimSuffix(file, ".expect.json")
		if only := os.Getenv("AGREMENS_ONLY"); only != "" && !strings.Contains(name, only) {
			continue
		}
		args := []string{"hear", "-expect", file}
		if _, err := os.Stat(name + ".speaker.wav"); err == nil {
			args = append(args, "-speaker", name+".speaker.wav")
		}
		if strings.Contains(name, "-click-") {
			args = append(args, "-beat")
		}
		var body, errs bytes.Buffer
		begun := time.Now()
		code := run(append(args, name+".wav"), &body, &errs)
		if !strings.Contains(os.Getenv("AGREMENS_MAY_FAIL"), "yes") {
			require.Equal(t, 0, code, "%s: %s", name, errs.String())
		}
		var heard map[string]any
		require.NoError(t, json.Unmarshal(body.Bytes(), &heard))
		info, err := os.Stat(name + ".wav")
		require.NoError(t, err)
		heard["cpu_s"], heard["audio_s"] = time.Since(begun).Seconds(), float64(info.Size()-44)/96000
		if heard["heard"].(map[string]any)["reason"] != nil {
			t.Log(filepath.Base(name), heard["heard"])
		}
		again, err := json.Marshal(heard)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(out, filepath.Base(name)+".out.json"), again, 0o644))
	}
}
