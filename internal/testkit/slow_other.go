//go:build !linux

package testkit

import (
	"testing"
	"time"
)

// Slow is for Linux alone.
func Slow(t testing.TB, _ int, _ float64) { Missing(t, "a system on which processes can be slowed") }

// First is not allowed here.
func First(testing.TB) (allowed bool) { return false }

// Worked is not known here.
func Worked(int) time.Duration { return 0 }

// processes are a process alone, where it is not known what comes of it.
func processes(root int) []int { return []int{root} }
