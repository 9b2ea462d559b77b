package folder

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"sync"
)

// A Kept is what long work has come to so far, in pieces with names, beside the folder that
// the work is for: so work that was stopped goes on where it was. Each run writes a file of
// its own, of pieces with their digests; a piece that was half written when the program was
// killed is no piece. Any number of goroutines may share it.
type Kept struct {
	w      Writer
	folder string
	held   Hold
	at     map[string]piece // by name
	files  []string         // that hold pieces
	read   []*os.File

	mu       sync.Mutex
	to       File // of this run
	ended    bool // nothing can be written any more
	unsynced int
	saved    int
}

// A piece is where one lies.
type piece struct {
	in         *os.File
	from, size int64
}

// A Part of a key is a thing that the pieces depend on, and the digest of what it holds.
type Part struct{ What, SHA256 string }

// keptEnd ends the name of the folder of what is kept.
const keptEnd = "-kept"

// keptOf is where the work for a folder is kept.
func keptOf(real string) string {
	return filepath.Join(filepath.Dir(real), prefix+short(filepath.Base(real))+keptEnd)
}

// OtherKept is pieces that are no use, as they depend on other things than the work at hand.
type OtherKept struct {
	Folder string
	What   string // differs
}

func (e *OtherKept) Error() string {
	return fmt.Sprintf("%s holds what a run that was stopped had worked out, of another %s", e.Folder, e.What)
}

// Keep opens what is kept of the work for a folder, and has it ready for more: the pieces
// of the key that are there, whatever run kept them. Pieces of another key are an
// [*OtherKept], unless they are to be dropped: then all are, those of this key too. Where
// another program keeps its work there the error is one that [Busy] knows.
func (w Writer) Keep(path string, key []Part, drop bool) (*Kept, error) {
	real, _, err := find(path)
	if err != nil {
		return nil, err
	}
	k := &Kept{w: w, folder: keptOf(real), at: map[string]piece{}}
	if info, err := os.Lstat(k.folder); err == nil && !info.IsDir() { // a link leads to what is not ours
		return nil, fmt.Errorf("%s is no folder of ours; remove it or rename it", k.folder)
	}
	if err := w.system().MkdirAll(k.folder); err != nil {
		return nil, err
	}
	if k.held, err = w.system().Hold(k.folder); err != nil {
		return nil, err
	}
	if err = k.look(key, drop); err == nil {
		err = k.begin(key)
	}
	if err != nil {
		k.leave()
		return nil, err
	}
	return k, nil
}

// Drop drops what is kept of the work for a folder, of whatever key; it reports whether
// anything was. What another program is keeping stays.
func (w Writer) Drop(path string) bool {
	real, _, err := find(path)
	if err != nil || !isThere(keptOf(real)) {
		return false
	}
	k, err := w.Keep(path, nil, true)
	if err != nil {
		return false
	}
	k.Done()
	return true
}

// Busy reports whether an error is that another program writes there.
func Busy(err error) bool { return errors.Is(err, errBusy) }

// Found is how many pieces were there.
func (k *Kept) Found() int { return len(k.at) }

// Saved is how many pieces were added.
func (k *Kept) Saved() int {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.saved
}

// Load is a piece by its name.
func (k *Kept) Load(name string) (content []byte, ok bool) {
	p, ok := k.at[name]
	if !ok {
		return nil, false
	}
	content = make([]byte, p.size)
	_, err := p.in.ReadAt(content, p.from)
	return content, err == nil
}

// syncedAfter is after how many pieces they are brought to the disk: what a loss of power
// takes is worked out anew.
const syncedAfter = 64

// Save adds a piece. Work goes on where that cannot be done, and is not kept any more: it is
// said once.
func (k *Kept) Save(name string, content []byte) error {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.ended {
		return nil
	}
	if err := k.put(name, content); err != nil {
		k.w.say("what is worked out is kept no longer, so that a run that is stopped goes on from here at best: %v", err)
		k.ended = true // after half a piece nothing can be read
		return nil
	}
	k.saved++
	return nil
}

func (k *Kept) put(name string, content []byte) error {
	if _, err := k.to.Write(framed(name, content)); err != nil {
		return err
	}
	if k.unsynced++; k.unsynced < syncedAfter {
		return nil
	}
	k.unsynced = 0
	return k.to.Sync()
}

// framed is a piece as it lies in a file: the lengths of name and content, these, and the
// digest of all that.
func framed(name string, content []byte) []byte {
	b := make([]byte, 0, frameHead+len(name)+len(content)+sha256.Size)
	b = binary.LittleEndian.AppendUint32(b, uint32(len(name)))
	b = binary.LittleEndian.AppendUint64(b, uint64(len(content)))
	b = append(append(b, name...), content...)
	sum := sha256.Sum256(b)
	return append(b, sum[:]...)
}

const frameHead = 4 + 8

// look takes up the files that are there.
func (k *Kept) look(key []Part, drop bool) error {
	entries, err := os.ReadDir(k.folder)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if _, err := strconv.Atoi(e.Name()); err != nil || !e.Type().IsRegular() {
			continue
		}
		name := filepath.Join(k.folder, e.Name())
		if is, err := ours(name); err != nil {
			return err
		} else if is {
			k.files = append(k.files, name)
		}
	}
	if drop {
		return k.drop()
	}
	for _, name := range k.files {
		if err := k.takeUp(name, key); err != nil {
			return err
		}
	}
	return nil
}

// ours reports whether a file begins with a whole key, or is empty, as of a run that was
// killed before it had written one. No other file is taken up, or removed.
func ours(name string) (bool, error) {
	f, err := os.Open(name)
	if err != nil {
		return false, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil || info.Size() == 0 {
		return err == nil, err
	}
	called, content, whole := next(f, info.Size())
	var key []Part
	return whole && called == "" && json.Unmarshal(content, &key) == nil, nil
}

// takeUp finds the pieces of a file, up to the first that is not whole. A file whose first
// is not, which is the key, holds nothing.
func (k *Kept) takeUp(name string, key []Part) error {
	f, err := os.Open(name)
	if err != nil {
		return err
	}
	k.read = append(k.read, f)
	info, err := f.Stat()
	if err != nil {
		return err
	}
	from, in := int64(0), bufio.NewReaderSize(f, 1<<20)
	for first := true; ; first = false {
		name, content, ok := next(in, info.Size()-from)
		if !ok {
			return nil
		}
		if first {
			if what := differs(content, key); what != "" {
				return &OtherKept{k.folder, what}
			}
		} else {
			k.at[name] = piece{f, from + frameHead + int64(len(name)), int64(len(content))}
		}
		from += frameHead + int64(len(name)) + int64(len(content)) + sha256.Size
	}
}

// next reads a piece, of no more bytes than are left; ok is false where there is no whole one.
func next(in io.Reader, left int64) (name string, content []byte, ok bool) {
	var head [frameHead]byte
	if _, err := io.ReadFull(in, head[:]); err != nil {
		return "", nil, false
	}
	names, contents := uint64(binary.LittleEndian.Uint32(head[:])), binary.LittleEndian.Uint64(head[4:])
	if most := uint64(left); contents > most || frameHead+names+contents+sha256.Size > most {
		return "", nil, false
	}
	all := make([]byte, frameHead+names+contents+sha256.Size)
	copy(all, head[:])
	if _, err := io.ReadFull(in, all[frameHead:]); err != nil {
		return "", nil, false
	}
	end := uint64(len(all) - sha256.Size)
	if sum := sha256.Sum256(all[:end]); !bytes.Equal(sum[:], all[end:]) {
		return "", nil, false
	}
	return string(all[frameHead : frameHead+names]), all[frameHead+names : end], true
}

// differs says what differs between a key as it was written and another; "" for nothing.
func differs(written []byte, key []Part) string {
	var was []Part
	if json.Unmarshal(written, &was) != nil {
		return "version of the program"
	}
	for i, part := range key {
		if i >= len(was) || was[i] != part {
			return part.What
		}
	}
	if len(was) > len(key) {
		return was[len(key)].What
	}
	return ""
}

// drop removes the files that are there.
func (k *Kept) drop() error {
	for _, name := range k.files {
		if err := k.w.system().Remove(name); err != nil {
			return err
		}
	}
	k.files = nil
	return nil
}

// begin begins the file of this run.
func (k *Kept) begin(key []Part) error {
	text, err := json.Marshal(key)
	if err != nil {
		return err
	}
	for n := len(k.files) + 1; ; n++ {
		name := filepath.Join(k.folder, strconv.Itoa(n))
		made, err := k.w.system().Create(name, 0o666)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err != nil {
			return err
		}
		k.files, k.to = append(k.files, name), made
		_, err = made.Write(framed("", text))
		return err
	}
}

// Leave ends the work before it is done: what was kept stays for the next run, if there is any.
func (k *Kept) Leave() {
	switch {
	case k.Found()+k.Saved() == 0:
		k.Done()
	case k.Saved() == 0:
		k.close()
		_ = k.w.system().Remove(k.files[len(k.files)-1])
		_ = k.held.Close()
	default:
		k.leave()
	}
}

func (k *Kept) leave() {
	k.close()
	_ = k.held.Close()
}

// close closes all files: a piece that is not whole is no piece.
func (k *Kept) close() {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.ended = true; k.to != nil {
		_ = k.to.Close()
	}
	for _, f := range k.read {
		_ = f.Close()
	}
}

// Done ends the work when its results are written: nothing is kept any more.
func (k *Kept) Done() {
	k.close()
	_ = k.drop() // the next run hears of what stays
	_ = k.held.Close()
	_ = k.w.system().Remove(k.folder)
}
