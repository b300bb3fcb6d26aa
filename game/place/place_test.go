package place_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/game/place"
)

func TestParse(t *testing.T) {
	for _, p := range place.All() {
		assert.Equal(t, p, place.Parse(string(p)))
	}
	for _, other := range []string{"", "Read", "desk", "read "} {
		assert.Equal(t, place.Read, place.Parse(other), "%q", other)
	}
}

func TestTappingLeadsToItsResult(t *testing.T) {
	for _, p := range place.All() {
		assert.Equal(t, place.Practise, p.Tapped())
	}
}
