//go:build js

package main

import (
	"runtime"
	"syscall/js"
)

// tellThreads lets a measurement ask how many threads of the program there are: a number that only grows is a leak
// (pwa/journeys/soak_test.go).
func tellThreads() {
	js.Global().Set("torchsideThreads", js.FuncOf(func(js.Value, []js.Value) any { return runtime.NumGoroutine() }))
}
