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

var arrived = make(chan int, 6_000)

func walk(n int) { arrived <- n }

func stand() { arrived <- 1 }

var heap []byte

// begin makes goroutines and so much else that stacks are swept before all of
// them have run.
func begin() (sum int) {
	runtime.GC() // for the first time others run before it sweeps
	for n := range cap(arrived) / 3 {
		go walk(n)
		go stand()
		go func() { arrived <- -n }()
		heap = make([]byte, 20_000)
	}
	for range cap(arrived) {
		sum += <-arrived
	}
	return sum
}

func main() {
	fmt.Println("goroutines:", begin())
	pc, _, line, _ := runtime.Caller(0)
	for range 20 { // stacks are moved and swept by these tables
		runtime.GC()
		grow(2000)
	}
	fmt.Println(outer(), runtime.FuncForPC(pc).Name(), line, grow(100))
}
