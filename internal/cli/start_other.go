//go:build !windows

package cli

func fromDesktop() bool { return false }
