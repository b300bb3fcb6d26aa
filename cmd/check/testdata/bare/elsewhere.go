//go:build !js

package main

func main() { panic("bare is a program for the browser") }
