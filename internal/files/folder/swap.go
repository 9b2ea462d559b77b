package folder

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
)

// errNoSwap is a folder that cannot change places with another; nothing was changed.
var errNoSwap = errors.New("the folder cannot be moved")

// swap writes the whole new state of a folder beside it and lets the two change
// places.
func (w Writer) swap(ctx context.Context, path string, c Change, now present) error {
	sys, parent := w.system(), filepath.Dir(path)
	staged, held, err := w.stage(parent, filepath.Base(path))
	if err != nil {
		return fmt.Errorf("%w: %w", errNoSwap, err)
	}
	defer held.Close()
	if err := w.build(ctx, staged, path, c, now); err != nil {
		w.discard(staged, slices.Concat(c.names(), now.others))
		return err
	}
	if err := sys.Exchange(staged, path); err != nil {
		w.discard(staged, slices.Concat(c.names(), now.others))
		return fmt.Errorf("%w: %w", errNoSwap, err)
	}
	err = sys.SyncFolder(parent)
	w.clear(staged, path, now) // which is the old state from here on
	return err
}

// build makes the new state.
func (w Writer) build(ctx context.Context, staged, path string, c Change, now present) error {
	sys := w.system()
	if err := sys.Alike(staged, path); err != nil {
		return fmt.Errorf("%w: %w", errNoSwap, err)
	}
	for _, name := range now.others {
		if err := sys.Link(filepath.Join(path, name), filepath.Join(staged, name)); err != nil {
			return fmt.Errorf("%w: %w", errNoSwap, err)
		}
	}
	if err := w.fill(ctx, staged, c.Files, now.modes); err != nil {
		return err
	}
	return ctx.Err()
}

// clear removes the old state. What others wrote into it since it was looked at goes
// to the new one; what cannot stays, and the next run names it.
func (w Writer) clear(old, path string, now present) {
	sys := w.system()
	entries, err := os.ReadDir(old)
	if err != nil {
		return
	}
	for _, e := range entries {
		name := e.Name()
		before, after := filepath.Join(old, name), filepath.Join(path, name)
		if _, written := now.modes[name]; written || sameEntry(before, after) {
			_ = sys.Remove(before)
		} else {
			_ = sys.Rename(before, after)
		}
	}
	_ = sys.Remove(old)
}

// sameEntry tells whether two names are of one file, links not followed.
func sameEntry(a, b string) bool {
	ia, errA := os.Lstat(a)
	ib, errB := os.Lstat(b)
	return errA == nil && errB == nil && os.SameFile(ia, ib)
}
