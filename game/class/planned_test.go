package class_test

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/class"
)

func TestAnOlderFileDoesNotBringAPlanBack(t *testing.T) {
	air := class.Planned{Day: today + 7, Title: "Air", Letters: "air"}
	filed := &class.Class{}
	require.True(t, filed.Add("Ana").AddPlan(air, noon))
	here := copied(t, filed)
	ana := here.Find("Ana")
	ana.Unplan(air, noon+1)
	here.Join(copied(t, filed))
	assert.Empty(t, ana.Plan)
	here = copied(t, here)
	here.Join(copied(t, filed))
	assert.Empty(t, here.Find("Ana").Plan, "after a reload too")

	// Another device learns of it; the same task in another week is another.
	there := copied(t, filed)
	later := air
	later.Day += 7
	require.True(t, there.Find("Ana").AddPlan(later, noon))
	there.Join(copied(t, here))
	require.Len(t, there.Find("Ana").Plan, 1)
	assert.Equal(t, later.Day, there.Find("Ana").Plan[0].Day)

	// Planned again in the same minute it stays, whoever joins it.
	again := copied(t, here)
	require.True(t, again.Find("Ana").AddPlan(air, noon+1))
	again.Join(copied(t, here))
	assert.Len(t, again.Find("Ana").Plan, 1)
	here.Join(copied(t, again))
	assert.Len(t, here.Find("Ana").Plan, 1)
}

func TestOnlySoManyThatWereTakenOutAreRemembered(t *testing.T) {
	c := &class.Class{}
	s := c.Add("Ana")
	for i := range class.MaxOut + 5 {
		p := class.Planned{Day: today, Letters: "t" + strconv.Itoa(i)}
		require.True(t, s.AddPlan(p, noon+i))
		s.Unplan(p, noon+i)
	}
	assert.Empty(t, s.Plan)
	require.Len(t, s.Out, class.MaxOut)
	assert.Equal(t, noon+5, s.Out[0].When, "the oldest make room")
	assert.Equal(t, c.Encode(), copied(t, c).Encode())
}

// An older program keeps lines it does not know, and what it wrote is read.
func TestAPlanOfAnOlderProgramIsRead(t *testing.T) {
	c, damaged, err := class.Decode("agremens-class 1\nstudent\tAna\nplan\t20789\tAir\t1-4\t\tair\t60\t80\ttrill\nend\t1\n")
	require.NoError(t, err)
	assert.Zero(t, damaged)
	require.Len(t, c.Find("Ana").Plan, 1)
	assert.Zero(t, c.Find("Ana").Plan[0].Set)
	c.Find("Ana").Unplan(c.Find("Ana").Plan[0], noon)
	assert.Contains(t, c.Encode(), "\nout\t20789\t")
}
