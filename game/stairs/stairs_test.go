package stairs_test

import (
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/game/practice"
	"agremens/game/stairs"
)

func TestStairs(t *testing.T) {
	steps := []practice.Rung{{Tempo: 60, Mark: practice.RungClean}, {Tempo: 67.6, Mark: practice.RungNot}, {Tempo: 60, Mark: practice.RungNow}, {Tempo: 62, Mark: practice.RungToCome}, {Tempo: 104, Mark: practice.RungToCome}}
	svg := stairs.SVG(steps, 104)
	assert.Equal(t, 1, strings.Count(svg, ">104<"))
	assert.Contains(t, svg, "week-now")
	assert.Contains(t, svg, "week-rest")
	wellFormed(t, svg)
	assert.Equal(t, "Clean at 60; tried at 68, not clean yet. Now 60 beats per minute. The goal is 104 beats per minute.", stairs.Text(steps, 104, nil))
	assert.Empty(t, stairs.SVG(nil, 104))

	var long []practice.Rung // a climb of forty rounds keeps its end in view
	for range 40 {
		long = append(long, practice.Rung{Tempo: 100, Mark: practice.RungNot})
	}
	wellFormed(t, stairs.SVG(append(long, practice.Rung{Tempo: 104, Mark: practice.RungNow}), 104))
	at := []practice.Rung{{Tempo: 104, Mark: practice.RungNow}} // nothing to climb
	wellFormed(t, stairs.SVG(at, 104))
	assert.NotContains(t, stairs.SVG(at, 104), "NaN")
}

func wellFormed(t *testing.T, svg string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(svg))
	for {
		if _, err := d.Token(); err == io.EOF {
			return
		} else if !assert.NoError(t, err) {
			return
		}
	}
}
