//go:build !faults

package main

func provoke() {}
