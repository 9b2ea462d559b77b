package cli

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"github.com/geocoris/geocoris/internal/files/folder"
)

// outFile is a file to be written, by its name in the folder.
type outFile struct {
	name    string
	content []byte
	make    func(io.Writer) error // in place of content; nil where it is there
}

// checkFolder refuses what is no folder, and a folder that holds other files than a
// command's own, before any work is done; force lets those be. Inputs must not lie
// where outputs will.
func checkFolder(path string, inputs, written []string, force bool) error {
	if err := folder.Check(path); err != nil {
		return err
	}
	entries, err := os.ReadDir(path)
	if os.IsNotExist(err) {
		return nil
	}
	if err != nil {
		return hintedError{err, "--out names a folder for the files"}
	}
	if err := folder.CheckApart(path, written, inputs); err != nil {
		return err
	}
	for _, e := range entries {
		if !force && !slices.Contains(written, e.Name()) && !folder.IsOwn(e.Name()) {
			return hintedError{fmt.Errorf("%s holds other files, such as %s", path, e.Name()), "choose another folder with --out, or give --force to write beside them"}
		}
	}
	return nil
}

// checkNew refuses what is no folder, and files that are there already unless force
// lets them be overwritten; inputs never are.
func checkNew(path string, inputs, names []string, force bool) error {
	if err := folder.Check(path); err != nil {
		return err
	}
	if err := folder.CheckApart(path, names, inputs); err != nil || force {
		return err
	}
	return folder.CheckNew(path, names)
}

// checkRun refuses a folder that holds the run of another command, which would lose
// its record. There force is of no use: two runs cannot stand in one folder.
func checkRun(path, command string) error {
	other, err := commandOf(path)
	if err == nil && other != "" && other != command {
		return hintedError{fmt.Errorf("%s holds what %s wrote, and its record of that would be overwritten", path, other), "choose another folder with --out"}
	}
	return nil // what is no record of ours is treated as any file
}

// commandOf is the command that wrote the run.json of a folder.
func commandOf(path string) (string, error) {
	var made struct{ Program, Command string }
	text, err := os.ReadFile(filepath.Join(path, "run.json"))
	if err == nil {
		err = json.Unmarshal(text, &made)
	}
	if made.Program != "geocoris" {
		return "", err
	}
	return made.Command, err
}

func sameFile(a, b string) bool {
	ia, errA := os.Stat(a)
	ib, errB := os.Stat(b)
	return errA == nil && errB == nil && os.SameFile(ia, ib)
}

// writer says on the stream of words what an earlier run left.
func (s Streams) writer() folder.Writer {
	return folder.Writer{System: s.disk, Say: func(note string) { fmt.Fprintf(s.Err, "note: %s\n", note) }}
}

func (s Streams) context() context.Context {
	if s.ctx == nil {
		return context.Background()
	}
	return s.ctx
}

// writeFolder writes files into a folder, all or none. Names in stale that are not
// written are removed, so that results of two runs never stand side by side.
func writeFolder(s Streams, path string, files []outFile, stale []string) error {
	return s.writer().Update(s.context(), path, func() (folder.Change, error) {
		return folder.Change{Files: outputs(files), Stale: stale}, nil
	})
}

// writeNew writes files into a folder, all or none; those that are there already are
// overwritten with force only.
func writeNew(s Streams, path string, files []outFile, force bool) error {
	return s.writer().Update(s.context(), path, func() (folder.Change, error) {
		return folder.Change{Files: outputs(files), New: !force}, nil
	})
}

// outputs are the files, the record of the run last: it vouches for the others.
func outputs(files []outFile) (out []folder.Output) {
	records := 0
	for _, f := range files {
		one := folder.Output{Name: f.name, Content: f.content, Make: f.make}
		if f.name == "run.json" || f.name == "handoff_run.json" {
			out = append(out, one)
			records++
			continue
		}
		out = slices.Insert(out, len(out)-records, one)
	}
	return out
}

// settled finishes what a run that was broken off began in folders that are read.
func settled(s Streams, paths ...string) error {
	for _, path := range paths {
		if err := s.writer().Settle(s.context(), path); err != nil {
			return err
		}
	}
	return nil
}

func namesOf(files []outFile) (names []string) {
	for _, f := range files {
		names = append(names, f.name)
	}
	return names
}
