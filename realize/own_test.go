package realize_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/assets"
	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/music"
	"agremens/realize/score"
)

// Every choice of the built-in passages can be written down as the user's own
// and read back, and then asks its neighbours for the time it takes.
func TestOwnAsTextComesBack(t *testing.T) {
	count := 0
	for _, e := range assets.Passages() {
		p, _, err := abc.Decode(e.ABC)
		require.NoError(t, err)
		r := realize.Read(p, realize.Taste{})
		for _, o := range r.Ornaments {
			for _, c := range o.Choices {
				count++
				own := realize.Own{Notes: c.Notes, Why: "as I was taught", Edition: true}
				got, err := realize.ParseOwn(own.Text())
				require.NoError(t, err, own.Text())
				assert.Equal(t, own, got)
				taken := realize.Read(p, realize.Taste{Own: map[score.ID]realize.Own{o.Note: got}})
				for _, again := range taken.Ornaments {
					if again.Note == o.Note {
						assert.Equal(t, taking(c.Borrows, false), taking(again.Choices[0].Borrows, false), "%s %s, %s", e.ID, o.ID, c.Key)
					}
				}
			}
		}
	}
	assert.Greater(t, count, 50)
}

// taking sums what one side gives; a rest gives without being named.
func taking(all []realize.Borrow, after bool) music.Frac {
	var sum music.Frac
	for _, b := range all {
		if b.After == after {
			sum = sum.Add(b.Amount)
		}
	}
	return sum
}

func TestOwnRefusals(t *testing.T) {
	for _, text := range []string{
		"", "own", "mine\nC5 0 1 0", "own\nC5 0 1", "own\nH5 0 1 0", "own\nC5 x 1 0", "own\nC5 0 0 0", "own\nC5 0 -1 0",
		"own\nC5 1/2 1/2 0\nC5 0 1/2 0", "own\nC5 0 1 0 loud", "own\nC5 0 1 0 99", "own\nC5 0 1 zero", "own\nC5 0 99999999999 0",
	} {
		_, err := realize.ParseOwn(text)
		assert.ErrorIs(t, err, realize.ErrOwn, "%q", text)
	}
}

func FuzzParseOwn(f *testing.F) {
	f.Add("own\nC5 0 1/4 0\nB4 1/4 1/4 -1 tied free 1.3")
	f.Add("edition page 3\nEb5 -1/8 1/8 1")
	f.Fuzz(func(t *testing.T, text string) {
		if o, err := realize.ParseOwn(text); err == nil {
			again, err := realize.ParseOwn(o.Text())
			require.NoError(t, err)
			require.Equal(t, o.Text(), again.Text())
		}
	})
}
