package cli

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"strings"
	"sync"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/files/folder"
)

// keptFrom is with how many fields a map is kept while it is worked out: fewer are soon
// worked out again. Our choice.
const keptFrom = 50

// ofProgram ends what differs where another program kept the work.
const ofProgram = " of the program"

// resumable is a map that goes on where it was stopped.
type resumable struct {
	run     mapRun
	streams Streams
	kept    *folder.Kept // nil where nothing is kept
	fields  int
	asked   bool // for what keeps the work: a map with pictures is not
}

// open is asked for what keeps the work on so many fields, which depends on these things.
func (r *resumable) open(fields int, of []engine.Depends) (engine.Keep, error) {
	r.asked = true
	if fields < keptFrom && !r.run.resume {
		return nil, nil
	}
	key := []folder.Part{{What: "build" + ofProgram, SHA256: programDigest()}}
	for _, d := range of {
		key = append(key, folder.Part{What: d.What, SHA256: d.SHA256})
	}
	kept, err := r.goOn(fields, key)
	if err != nil || kept == nil {
		return nil, err
	}
	r.kept, r.fields = kept, fields
	return kept, nil
}

// goOn opens what a run that was stopped had kept, or begins. Where nothing can be kept it is
// nil, and said.
func (r *resumable) goOn(fields int, key []folder.Part) (*folder.Kept, error) {
	kept, err := r.streams.writer().Keep(r.run.options.Out, key, false)
	var other *folder.OtherKept
	switch {
	case errors.As(err, &other):
		kept, err = r.inPlaceOf(other, key)
	case folder.Busy(err) && r.run.resume:
		err = hintedError{fmt.Errorf("%s: another program is working on this map", r.run.options.Out), "wait until it is done"}
	case err == nil && kept.Found() > 0:
		kept, err = r.goOnWith(kept, fields, key)
	case err == nil && r.run.resume:
		r.run.note(r.streams, "nothing is there of a run that was stopped; all fields are worked out")
	}
	var refused hintedError
	switch {
	case errors.As(err, &refused):
		return nil, err
	case err != nil:
		r.run.note(r.streams, fmt.Sprintf("what is worked out cannot be kept, so that a run that is stopped begins anew: %v", err))
		return nil, nil
	}
	return kept, nil
}

// inPlaceOf begins in place of what was kept with other files, settings or another program.
func (r *resumable) inPlaceOf(other *folder.OtherKept, key []folder.Part) (*folder.Kept, error) {
	switch {
	case r.run.resume:
		return nil, hintedError{other, "give the files and settings that it was begun with, or leave out --resume to begin anew"}
	case strings.HasSuffix(other.What, ofProgram): // of no use to this program, however it is run
		r.run.note(r.streams, other.Error()+": it is dropped")
		return r.streams.writer().Keep(r.run.options.Out, key, true)
	default:
		return r.anew(", with another "+other.What, "with the files and settings that it was begun with, --resume goes on from there; --force begins anew", key)
	}
}

// goOnWith goes on with the fields that were done, or begins anew where nobody asks for them.
func (r *resumable) goOnWith(kept *folder.Kept, fields int, key []folder.Part) (*folder.Kept, error) {
	done := fmt.Sprintf("%d of %d fields were done", min(kept.Found(), fields), fields)
	if r.run.resume {
		r.run.note(r.streams, done+" when a run was stopped; this one goes on from there")
		return kept, nil
	}
	kept.Leave()
	return r.anew(" when "+done, "--resume goes on from there, --force begins anew", key)
}

// anew begins in place of what a run that was stopped had kept, if that is forced.
func (r *resumable) anew(stopped, hint string, key []folder.Part) (*folder.Kept, error) {
	text := fmt.Sprintf("%s: a run of this map was stopped%s", r.run.options.Out, stopped)
	if !r.run.options.Force {
		return nil, hintedError{errors.New(text), hint}
	}
	r.run.note(r.streams, text+"; this one begins anew")
	return r.streams.writer().Keep(r.run.options.Out, key, true)
}

// stopped leaves what is kept to the next run, and says so.
func (r *resumable) stopped() {
	if r.kept == nil {
		return
	}
	if done := r.kept.Found() + r.kept.Saved(); done > 0 {
		r.run.note(r.streams, fmt.Sprintf("%d of %d fields are kept: the same command with --resume goes on from there", min(done, r.fields), r.fields))
	}
	r.kept.Leave()
}

// written ends the work once the files are written.
func (r *resumable) written(err error) error {
	switch {
	case err != nil:
		r.stopped()
	case r.kept != nil:
		r.kept.Done()
	case r.asked || !r.run.resume:
	case r.streams.writer().Drop(r.run.options.Out): // it would be taken for work that is still to be done
		r.run.note(r.streams, "pictures need more of a field than is kept: all fields were worked out, and what was kept is dropped")
	default:
		r.run.note(r.streams, "pictures need more of a field than is kept: all fields were worked out")
	}
	return err
}

// programDigest tells programs apart that say that they are the same version, as those that
// somebody builds do; "" where the program cannot be read. One built of a commit as it is need
// not be read: it is some 50 MB. A process asks once: what runs does not change.
var programDigest = sync.OnceValue(func() string {
	sum := sha256.New()
	if built, ok := debug.ReadBuildInfo(); ok && ofCommit(built) {
		io.WriteString(sum, built.String())
		return hex.EncodeToString(sum.Sum(nil))
	}
	path, err := os.Executable()
	if err != nil {
		return ""
	}
	f, err := os.Open(path)
	if err != nil {
		return ""
	}
	defer f.Close()
	if _, err := io.Copy(sum, f); err != nil {
		return ""
	}
	return hex.EncodeToString(sum.Sum(nil))
})

// ofCommit reports whether a commit, to which nothing was done, tells all that a program was
// built of.
func ofCommit(built *debug.BuildInfo) bool {
	var revision, modified string
	for _, s := range built.Settings {
		switch s.Key {
		case "vcs.revision":
			revision = s.Value
		case "vcs.modified":
			modified = s.Value
		}
	}
	return revision != "" && modified == "false"
}
