package folder

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

const (
	ready   = prefix + "ready-" // begins the name of a folder whose files count
	newPart = "new"             // in it, the files that go out of it
	oldPart = "old"             // in it, what stood in their way
	list    = "list.json"
)

// moves is the list that lies beside the files.
type moves struct {
	Files  []string `json:"files"`  // to be moved in, in this order
	Remove []string `json:"remove"` // of a former run
}

// inPlace writes the files into a folder within, and moves them out of it.
func (w Writer) inPlace(ctx context.Context, path string, c Change, now present) error {
	sys := w.system()
	id := fmt.Sprintf("%08x", rand.Uint32())
	staged, counts := filepath.Join(path, prefix+id), filepath.Join(path, ready+id)
	m := moves{Files: c.names()}
	for _, name := range c.Stale {
		if _, there := now.modes[name]; there && !slices.Contains(m.Files, name) {
			m.Remove = append(m.Remove, name)
		}
	}
	err := w.prepare(ctx, staged, m, c, now)
	if err == nil {
		err = sys.Rename(staged, counts)
	}
	if err != nil {
		w.sweep(staged, m)
		return err
	}
	if err := sys.SyncFolder(path); err != nil {
		w.sweep(counts, m)
		return err
	}
	if err := w.move(path, counts, m, now); err != nil {
		return err
	}
	err = sys.SyncFolder(path)
	w.sweep(counts, m)
	return err
}

func (w Writer) prepare(ctx context.Context, staged string, m moves, c Change, now present) error {
	sys := w.system()
	for _, folder := range []string{staged, filepath.Join(staged, newPart), filepath.Join(staged, oldPart)} {
		if err := sys.Mkdir(folder); err != nil {
			return err
		}
	}
	if err := w.fill(ctx, filepath.Join(staged, newPart), c.Files, now.modes); err != nil {
		return err
	}
	text, err := json.Marshal(m)
	if err != nil {
		return err
	}
	if err := w.put(ctx, staged, []Output{{Name: list, Content: text}}, nil); err != nil {
		return err
	}
	if err := sys.SyncFolder(staged); err != nil {
		return err
	}
	return ctx.Err()
}

// move moves everything, or puts everything back where one cannot be moved.
func (w Writer) move(path, counts string, m moves, now present) (err error) {
	var undo [][2]string
	step := func(from, to string) {
		if err != nil {
			return
		}
		if err = w.system().Rename(from, to); err == nil {
			undo = append(undo, [2]string{to, from})
		}
	}
	out := slices.Clone(m.Remove)
	for _, name := range m.Files {
		if _, there := now.modes[name]; there {
			out = append(out, name)
		}
	}
	for _, name := range slices.Backward(out) {
		step(filepath.Join(path, name), filepath.Join(counts, oldPart, name))
	}
	for _, name := range m.Files {
		step(filepath.Join(counts, newPart, name), filepath.Join(path, name))
	}
	if err == nil {
		return nil
	}
	for _, back := range slices.Backward(undo) {
		if failed := w.system().Rename(back[0], back[1]); failed != nil {
			return errors.Join(err, failed) // the next run finishes what counts already
		}
	}
	w.sweep(counts, m)
	return err
}

// sweep removes a folder of moves, and the files that are left in it.
func (w Writer) sweep(folder string, m moves) {
	_ = w.system().Remove(filepath.Join(folder, list)) // first: without it nothing counts
	w.discard(filepath.Join(folder, newPart), m.Files)
	w.discard(filepath.Join(folder, oldPart), append(slices.Clone(m.Remove), m.Files...))
	_ = w.system().Remove(folder)
}

// Settle finishes what a run that was killed began in a folder, so that nobody reads
// half of it. A folder that is whole, or none, is left alone.
func (w Writer) Settle(ctx context.Context, path string) error {
	real, there, err := find(path)
	if err != nil || !there {
		return nil //nolint:nilerr // who reads it says what is wrong
	}
	if begun, err := unfinished(real); err != nil || len(begun) == 0 {
		return nil //nolint:nilerr // the same
	}
	held, err := w.hold(ctx, real)
	if errors.Is(err, errMoved) {
		return nil
	}
	if err != nil {
		return err
	}
	defer held.Close()
	return w.settle(real)
}

func unfinished(path string) (names []string, err error) {
	entries, err := os.ReadDir(path)
	for _, e := range entries {
		if e.IsDir() && strings.HasPrefix(e.Name(), ready) {
			names = append(names, e.Name())
		}
	}
	return names, err
}

// settle is [Writer.Settle] of a folder that is held.
func (w Writer) settle(path string) error {
	names, err := unfinished(path)
	if err != nil {
		return err
	}
	for _, name := range names {
		if err := w.finish(path, filepath.Join(path, name)); err != nil {
			return &Error{fmt.Sprintf("%s is half written: a run was broken off, and it cannot be finished: %v", path, err),
				"its files lie in " + filepath.Join(path, name, newPart) + ": move them where they belong, then delete that folder"}
		}
	}
	return nil
}

// finish moves what is still to be moved.
func (w Writer) finish(path, counts string) error {
	sys := w.system()
	text, err := os.ReadFile(filepath.Join(counts, list))
	if errors.Is(err, fs.ErrNotExist) {
		return nil // all was moved, or put back; what is left is named
	}
	if err != nil {
		return err
	}
	var m moves
	if err := json.Unmarshal(text, &m); err != nil {
		return err
	}
	for _, name := range slices.Concat(m.Files, m.Remove) {
		if err := checkName(name); err != nil {
			return err
		}
	}
	for _, name := range m.Remove {
		if err := sys.Remove(filepath.Join(path, name)); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	for _, name := range m.Files {
		err := sys.Rename(filepath.Join(counts, newPart, name), filepath.Join(path, name))
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	if err := sys.SyncFolder(path); err != nil {
		return err
	}
	w.say("%s: finished what a run that was broken off had begun: %s", path, strings.Join(m.Files, ", "))
	w.sweep(counts, m)
	return nil
}
