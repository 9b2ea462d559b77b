//go:build !linux && !darwin

package folder

import "errors"

func exchange(string, string) error  { return errors.ErrUnsupported }
func renameNew(string, string) error { return errors.ErrUnsupported }
func plain(string) error             { return nil }
