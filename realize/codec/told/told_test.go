package told_test

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/realize/codec/told"
)

func TestWarningsOfAKindCountTheirPlaces(t *testing.T) {
	var w told.Warnings
	w.Add(told.Place{Measure: "3", Line: 12}, "“{text}” was left out", "{text}", "x")
	w.Add(told.Place{Measure: "4"}, "“{text}” was left out", "{text}", "x")
	w.Add(told.Place{Part: "P2", Line: 7, Spine: 2}, "“{text}” was left out", "{text}", "y")
	w.Add(told.Place{}, "something else")
	var said []string
	for _, warning := range w.List() {
		said = append(said, warning.String())
	}
	assert.Equal(t, []string{"bar 3, line 12 and 1 more: “x” was left out", "part P2, line 7, spine 2: “y” was left out", "the file: something else"}, said)
}

func TestNoMoreThanSoManyKinds(t *testing.T) {
	var w told.Warnings
	for i := range told.Most + 5 {
		w.Add(told.Place{}, "{n}", "{n}", strconv.Itoa(i))
	}
	w.Add(told.Place{}, "{n}", "{n}", "0")
	assert.Len(t, w.List(), told.Most)
	assert.Equal(t, 1, w.List()[0].At.More)
}
