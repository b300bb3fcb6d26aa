package faulty

import "testing"

func TestSome(t *testing.T) {
	if !bigger(2, 1) || sum(map[string]int{"a": 1, "b": 2}) != 8 || down(1) != 0 {
		t.Fail()
	}
	unheard(4)
}
