//go:build !small

package engine

import (
	"fmt"
	"path/filepath"
	"slices"
)

const mapAgain = "run map again, into another folder where you want to keep what you changed"

// output is what a record holds of a file that its run wrote; ok is false for a file that
// it does not tell of.
func (r keptRecord) output(name string) (of Input, ok bool) {
	at := slices.IndexFunc(r.Outputs, func(o Input) bool { return o.Path == name })
	if at < 0 {
		return of, false
	}
	return r.Outputs[at], true
}

// tells reports whether a record tells of what its run wrote: those of before do not.
func (r keptRecord) tells() bool { return len(r.Outputs) > 0 }

// asWritten reports whether a file is what the run of a record wrote under its name. One
// that the record does not tell of is not.
func (r keptRecord) asWritten(from Source) bool {
	of, ok := r.output(filepath.Base(from.Name))
	return ok && of.SHA256 == InputOf(from).SHA256
}

// unchanged refuses files of the folder that are no longer what map wrote there. Records
// of before tell of none, and nothing is refused.
func (f MapFolder) unchanged(run keptRecord, read ...Source) error {
	for _, from := range read {
		if run.tells() && from.Content != nil && !run.asWritten(from) {
			return changedSince(from.Name)
		}
	}
	return nil
}

// Vouch refuses files of the folder that are no longer what map wrote there, and a record
// that is not one of map. Where there is no record nothing is refused.
func (f MapFolder) Vouch(read ...Source) error {
	if f.Run.Content == nil {
		return nil
	}
	run, err := f.record(giveFolder)
	if err != nil {
		return err
	}
	return f.unchanged(run, read...)
}

func changedSince(name string) error {
	return hinted(fmt.Errorf("%s is not what map wrote there: it was changed since", name), mapAgain)
}

// whole refuses a folder of which a file is no longer what map wrote there, or is gone.
func (f MapFolder) whole(run keptRecord) error {
	for _, of := range run.Outputs {
		name := filepath.Join(f.Name, of.Path)
		now, err := f.Load(name)
		if err != nil {
			return hinted(fmt.Errorf("%s, which map wrote there: %w", name, err), mapAgain)
		}
		if InputOf(now).SHA256 != of.SHA256 {
			return changedSince(name)
		}
	}
	return nil
}
