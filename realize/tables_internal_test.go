package realize

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/realize/music"
)

// TestTables checks what the engine takes for granted of the data.
func TestTables(t *testing.T) {
	usedShapes, usedSources := map[string]bool{}, map[string]bool{"measured": true, "counted": true, "fingers": true, "cpe-3-12": true}
	check := func(where string, rules []rule) {
		for _, r := range rules {
			_, known := shapes[r.shape]
			assert.True(t, known, "%s: no shape %q", where, r.shape)
			usedShapes[r.shape] = true
			assert.NotEmpty(t, r.from, "%s: %s has no source", where, r.shape)
			assert.NotEmpty(t, r.why, "%s: %s has no reason", where, r.shape)
			assert.NotEmpty(t, r.figures, "%s: %s is for no figure", where, r.shape)
			for _, s := range r.from {
				_, known := sources[s]
				assert.True(t, known, "%s: no source %q", where, s)
				usedSources[s] = true
			}
		}
	}
	check("common", commonRules)
	keys := map[string]bool{}
	for _, tr := range traditions {
		assert.False(t, keys[tr.key], "two traditions are called %s", tr.key)
		keys[tr.key] = true
		check(tr.key, tr.rules)
	}
	for key, s := range shapes {
		assert.True(t, usedShapes[key], "no rule uses the shape %s", key)
		assert.NotEmpty(t, s.name, key)
		if len(s.d) > 0 {
			sum := music.Frac{}
			for _, part := range s.d {
				sum = sum.Add(part)
			}
			assert.Equal(t, music.Int(1), sum, "the shares of %s", key)
			assert.Len(t, s.d, len(s.steps), key)
		}
	}
	for key := range sources {
		assert.True(t, usedSources[key], "no rule rests on %s", key)
	}
	for _, h := range habits {
		assert.NotEmpty(t, h.figure)
		for _, key := range h.shapes {
			_, known := shapes[key]
			assert.True(t, known, "a habit names %q", key)
		}
	}
	for f := figure(1); f < figureCount; f++ {
		found := false
		for _, r := range commonRules {
			for _, g := range r.figures {
				found = found || g == f && r.shape != "plain"
			}
		}
		assert.True(t, found || f == thirdFigure, "no common rule answers figure %d", f)
	}
}
