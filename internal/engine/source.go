package engine

import (
	"crypto/sha256"
	"encoding/hex"
	"hash"
	"io"

	"github.com/geocoris/geocoris/geo/geofile"
)

// A Source is a named file in memory that comes in.
type Source = geofile.Source

// A File is a named file in memory that goes out.
type File struct {
	Name    string
	Content []byte
}

// An Input is a file as a record keeps it.
type Input struct {
	Path   string `json:"path"`
	Bytes  int64  `json:"bytes"`
	SHA256 string `json:"sha256"`
}

// InputOf is the record of a source.
func InputOf(s Source) Input {
	sum := sha256.Sum256(s.Content)
	return Input{Path: s.Name, Bytes: int64(len(s.Content)), SHA256: hex.EncodeToString(sum[:])}
}

// A digester takes the digest of what is written through it.
type digester struct {
	to    io.Writer
	sum   hash.Hash
	bytes int64
}

func newDigester(to io.Writer) *digester { return &digester{to: to, sum: sha256.New()} }

// Write implements [io.Writer].
func (t *digester) Write(b []byte) (int, error) {
	n, err := t.to.Write(b)
	t.sum.Write(b[:n])
	t.bytes += int64(n)
	return n, err
}

// input is the record of what was written.
func (t *digester) input(name string) Input {
	return Input{Path: name, Bytes: t.bytes, SHA256: hex.EncodeToString(t.sum.Sum(nil))}
}
