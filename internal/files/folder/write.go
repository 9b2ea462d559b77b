package folder

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"time"

	"golang.org/x/sync/errgroup"
)

// An Output is a file to be written, by its name in the folder.
type Output struct {
	Name    string
	Content []byte
	// Make writes the file in place of Content, beside others, the last of a change after
	// all of them; it is called again where the folder is begun anew.
	Make func(io.Writer) error
}

// A Change is what becomes of a folder. The last file vouches for the others.
type Change struct {
	Files []Output
	Stale []string // of a former run: removed where they are not among Files
	New   bool     // a file that is there already is an error
	Stay  bool     // the folder stays where it is, as who works in it holds on to it
}

func (c Change) names() (names []string) {
	for _, f := range c.Files {
		names = append(names, f.Name)
	}
	return names
}

// A Writer writes into folders. The zero value works on the machine and says nothing.
type Writer struct {
	System   System            // nil for [Machine]
	Say      func(note string) // of what a run that was killed left
	Patience time.Duration     // how long to wait for another program; 30 s where 0
	Kept     *Kept             // that is at hand: no run left it
}

func (w Writer) system() System {
	if w.System == nil {
		return Machine{}
	}
	return w.System
}

func (w Writer) say(format string, args ...any) {
	if w.Say != nil {
		w.Say(fmt.Sprintf(format, args...))
	}
}

// errMoved is a folder that another program made, moved or removed meanwhile.
var errMoved = errors.New("the folder was moved meanwhile")

// Update makes one change of a folder, all of it or none, and makes the folder where
// there is none. The change is asked for when nobody else can write any more, so it
// may go by what the folder holds; it is asked for again where another program was
// faster. When Update returns nil everything is on the disk.
func (w Writer) Update(ctx context.Context, path string, change func() (Change, error)) error {
	const most = 1000
	for range most {
		real, there, err := find(path)
		if err != nil {
			return err
		}
		if there {
			err = w.inFolder(ctx, real, change)
		} else {
			err = w.begin(ctx, real, change)
		}
		if !errors.Is(err, errMoved) {
			return err
		}
	}
	return fmt.Errorf("%s: %w, again and again", path, errMoved)
}

func asked(change func() (Change, error)) (Change, error) {
	c, err := change()
	if err != nil {
		return c, err
	}
	for _, name := range append(c.names(), c.Stale...) {
		if err := checkName(name); err != nil {
			return c, err
		}
	}
	return c, nil
}

// begin makes a folder that is not there yet.
func (w Writer) begin(ctx context.Context, path string, change func() (Change, error)) (err error) {
	sys, parent := w.system(), filepath.Dir(path)
	if err := sys.MkdirAll(parent); err != nil {
		return err
	}
	defer func() { // when it is there: until then it lacks all that was left
		if !errors.Is(err, errMoved) {
			w.sayLeft(parent, path)
		}
	}()
	c, err := asked(change)
	if err != nil {
		return err
	}
	staged, held, err := w.stage(parent, filepath.Base(path))
	if err != nil {
		return err
	}
	defer held.Close()
	if err = w.fill(ctx, staged, c.Files, nil); err == nil {
		err = sys.RenameNew(staged, path)
	}
	if err != nil {
		w.discard(staged, c.names())
	}
	if errors.Is(err, fs.ErrExist) {
		return errMoved
	}
	if err != nil {
		return err
	}
	return sys.SyncFolder(parent)
}

// inFolder changes a folder that is there.
func (w Writer) inFolder(ctx context.Context, path string, change func() (Change, error)) error {
	held, err := w.hold(ctx, path)
	if err != nil {
		return err
	}
	defer held.Close()
	if err := w.settle(path); err != nil {
		return err
	}
	w.sayLeft(filepath.Dir(path), path)
	c, err := asked(change)
	if err != nil {
		return err
	}
	if c.New {
		if err := CheckNew(path, c.names()); err != nil {
			return err
		}
	}
	now, err := look(path, c)
	if err != nil {
		return err
	}
	if held.Moves() && now.movable && !c.Stay && !holdsWorkingFolder(path) {
		if err := w.swap(ctx, path, c, now); !errors.Is(err, errNoSwap) {
			return err
		}
	}
	return w.inPlace(ctx, path, c, now)
}

// hold waits until no other program writes into a folder.
func (w Writer) hold(ctx context.Context, path string) (Hold, error) {
	const pause = 10 * time.Millisecond
	patience := w.Patience
	if patience == 0 {
		patience = 30 * time.Second
	}
	for waited := time.Duration(0); ; waited += pause {
		held, err := w.system().Hold(path)
		switch {
		case err == nil:
			return held, nil
		case errors.Is(err, fs.ErrNotExist):
			return nil, errMoved
		case !errors.Is(err, errBusy):
			return nil, err
		case waited >= patience:
			hint := "try again when it is done"
			if _, err := os.Lstat(filepath.Join(path, lockName)); err == nil {
				hint += "; if none is running, delete " + filepath.Join(path, lockName)
			}
			return nil, &Error{fmt.Sprintf("%s: %v", path, errBusy), hint}
		}
		select {
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-time.After(pause):
		}
	}
}

// present is what a folder holds.
type present struct {
	modes   map[string]fs.FileMode // of files that are to be replaced or removed
	others  []string               // names that are nobody's business here
	movable bool                   // others are few, and all files or links
}

// mostLinked bounds the files of others that are taken along: in a folder with more
// of them, those not written by us are guests, and it stays where it is.
const mostLinked = 256

func look(path string, c Change) (p present, err error) {
	entries, err := os.ReadDir(path)
	if err != nil {
		return p, err
	}
	written := map[string]bool{}
	for _, name := range append(c.names(), c.Stale...) {
		written[name] = true
	}
	p = present{modes: map[string]fs.FileMode{}, movable: true}
	for _, e := range entries {
		name, kind := e.Name(), e.Type()
		switch {
		case written[name] && e.IsDir():
			return p, &Error{filepath.Join(path, name) + " is a folder", "choose another folder"}
		case written[name]:
			p.modes[name] = 0
			if info, err := e.Info(); err == nil && kind.IsRegular() {
				p.modes[name] = info.Mode().Perm()
			}
		default:
			p.others = append(p.others, name)
			p.movable = p.movable && (kind.IsRegular() || kind == fs.ModeSymlink) && !IsOwn(name)
		}
	}
	p.movable = p.movable && len(p.others) <= mostLinked
	return p, nil
}

// stage makes a folder beside, and holds it where that lets it be moved: so another
// run tells it from one that was left.
func (w Writer) stage(parent, base string) (staged string, held Hold, err error) {
	for {
		staged = filepath.Join(parent, fmt.Sprintf("%s%s-%08x", prefix, short(base), rand.Uint32()))
		if err = w.system().Mkdir(staged); !errors.Is(err, fs.ErrExist) {
			break
		}
	}
	if err != nil {
		return "", nil, err
	}
	held, err = w.system().Hold(staged)
	if err != nil {
		w.discard(staged, nil)
		return "", nil, err
	}
	if !held.Moves() {
		held.Close()
		held = released{}
	}
	return staged, held, nil
}

// released holds nothing.
type released struct{}

func (released) Moves() bool  { return true }
func (released) Close() error { return nil }

// together is how many files are brought to the disk at a time: waiting for one takes
// about as long as for all of them, and so many may be open on any machine.
const together = 16

// fill writes files into a folder that holds none of them. A file that takes the
// place of another has its permissions.
func (w Writer) fill(ctx context.Context, folder string, files []Output, modes map[string]fs.FileMode) error {
	for some := range slices.Chunk(files, together) {
		if err := w.put(ctx, folder, some, modes); err != nil {
			return err
		}
	}
	return w.system().SyncFolder(folder)
}

// put writes files side by side, the last one after the others, and waits until all of
// them are on the disk.
func (w Writer) put(ctx context.Context, folder string, files []Output, modes map[string]fs.FileMode) (err error) {
	open := make([]File, len(files))
	defer func() {
		for _, f := range open {
			if f != nil {
				err = errors.Join(err, f.Close())
			}
		}
	}()
	write := func(i int) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		mode := modes[files[i].Name]
		if mode == 0 {
			mode = 0o666 // less what the user's mask takes
		}
		made, err := w.system().Create(filepath.Join(folder, files[i].Name), mode)
		if err != nil {
			return err
		}
		open[i] = made
		return files[i].write(made)
	}
	var written, synced errgroup.Group
	written.SetLimit(runtime.GOMAXPROCS(0))
	last := len(files) - 1
	for i := range last {
		written.Go(func() error { return write(i) })
	}
	if err := written.Wait(); err != nil {
		return err
	}
	if err := write(last); err != nil {
		return err
	}
	for _, f := range open {
		synced.Go(f.Sync)
	}
	return synced.Wait()
}

// write puts the content into a file.
func (f Output) write(to io.Writer) error {
	if f.Make == nil {
		_, err := to.Write(f.Content)
		return err
	}
	const atOnce = 64 << 10
	some := bufio.NewWriterSize(to, atOnce)
	if err := f.Make(some); err != nil {
		return err
	}
	return some.Flush()
}

// discard removes a folder that was made here, by the names that were put into it;
// with anything else in it, it stays.
func (w Writer) discard(folder string, names []string) {
	for _, name := range names {
		_ = w.system().Remove(filepath.Join(folder, name)) // the next run hears of what stays
	}
	_ = w.system().Remove(folder)
}

// holdsWorkingFolder tells whether the program was started from within a folder.
func holdsWorkingFolder(path string) bool {
	wd, err := os.Getwd()
	if err == nil {
		wd, err = filepath.EvalSymlinks(wd)
	}
	if err != nil {
		return true // better not to move it
	}
	rel, err := filepath.Rel(path, wd)
	return err == nil && filepath.IsLocal(rel)
}
