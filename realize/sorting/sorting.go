// Package sorting puts slices in order. The standard library's sorts are compiled once for
// each type of element, about 10 kB of program each; here what is compiled for
// a type only fetches, compares and puts down, and the sort itself exists once.
package sorting

// Stable sorts s by compare, which returns less than 0 where a stands before
// b; equal elements keep their order. It does nothing to a slice that is in
// order already, and otherwise needs room for a copy of it.
func Stable[S ~[]E, E any](s S, compare func(a, b E) int) {
	from := merged(len(s), func(i, j int32) bool { return compare(s[i], s[j]) <= 0 })
	if from == nil {
		return
	}
	sorted := make(S, len(s))
	for i, k := range from {
		sorted[i] = s[k]
	}
	copy(s, sorted)
}

// merged returns which of n elements comes first, second and so on, nil where
// they are in order. inOrder says that i may stand before j.
func merged(n int, inOrder func(i, j int32) bool) []int32 {
	in := true
	for i := int32(1); in && int(i) < n; i++ {
		in = inOrder(i-1, i)
	}
	if in {
		return nil
	}
	from, to := make([]int32, n), make([]int32, n)
	for i := range from {
		from[i] = int32(i)
	}
	for width := 1; width < n; width *= 2 {
		for at := 0; at < n; at += 2 * width {
			merge(from[at:min(at+2*width, n)], min(width, n-at), to[at:], inOrder)
		}
		from, to = to, from
	}
	return from
}

// merge puts both parts of from, which are in order, into to. The second
// begins at middle.
func merge(from []int32, middle int, to []int32, inOrder func(i, j int32) bool) {
	left, right := from[:middle], from[middle:]
	for i := range from {
		if len(right) == 0 || len(left) > 0 && inOrder(left[0], right[0]) {
			to[i], left = left[0], left[1:]
		} else {
			to[i], right = right[0], right[1:]
		}
	}
}
