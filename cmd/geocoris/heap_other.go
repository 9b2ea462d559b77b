//go:build !linux

package main

// adviseLarge is for Linux alone.
func adviseLarge([]byte) {}
