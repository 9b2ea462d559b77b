//go:build !linux

package heap

// adviseLarge is for Linux alone.
func adviseLarge([]byte) {}
