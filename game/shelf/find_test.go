package shelf_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/game/shelf"
)

func TestPiecesAreFoundByTheirWords(t *testing.T) {
	for _, c := range []struct {
		find string
		want bool
	}{{"", false}, {"  ", false}, {"turns", true}, {"AN and", true}, {"ana turns", true}, {"ben", false}, {"turns ben", false}} {
		assert.Equal(t, c.want, shelf.Matches(c.find, "An Andante for Turns", "Ana, Cleo"), c.find)
	}
}
