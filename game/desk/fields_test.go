package desk_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/game/desk"
)

// What is listed as a field of an address is understood as one, and nothing
// else is.
func TestFields(t *testing.T) {
	for _, field := range desk.Fields() {
		d := open(t)
		assert.Len(t, d.Apply(map[string]string{field: "nonsense"}, []string{"piano"}), 1, field)
	}
	d := open(t)
	assert.Empty(t, d.Apply(map[string]string{"passages": "nonsense", "kinds": "nonsense"}, nil))
}
