//go:build !linux && !darwin && !freebsd && !netbsd && !openbsd && !dragonfly && !windows

package folder

import "errors"

func hold(folder string) (Hold, error) { return makeLock(folder) }

func alive(string) bool { return false } // not to be known here

func alike(string, string) error { return nil }

func noSuchStep(err error) bool { return errors.Is(err, errors.ErrUnsupported) }
