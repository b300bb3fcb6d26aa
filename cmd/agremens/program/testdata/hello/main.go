// Command hello panics, catches it and says where it is: what needs the
// runtime's tables.
package main

import (
	"fmt"
	"runtime"
)

func inner() { panic("deep") }

func outer() (what any) {
	defer func() { what = recover() }()
	inner()
	return nil
}

func grow(n int) int {
	var room [512]int
	if n == 0 {
		return 0
	}
	room[n%512] = n
	return room[n%512] + grow(n-1)
}

func main() {
	pc, _, line, _ := runtime.Caller(0)
	for range 20 { // stacks are moved and swept by these tables
		runtime.GC()
		grow(2000)
	}
	fmt.Println(outer(), runtime.FuncForPC(pc).Name(), line, grow(100))
}
