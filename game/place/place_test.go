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

func TestAFirstVisitGoesOn(t *testing.T) {
	for _, c := range []struct {
		at     place.Beginning
		tapped bool
		then   place.Beginning
	}{
		{place.New, false, place.Heard}, {place.New, true, place.Begun},
		{place.Heard, false, place.Heard}, {place.Heard, true, place.Begun},
		{place.Begun, false, place.Begun}, {place.Begun, true, place.Begun},
		{"of another version", false, "of another version"}, {"of another version", true, place.Begun},
	} {
		assert.Equal(t, c.then, c.at.After(c.tapped), "%+v", c)
	}
}
