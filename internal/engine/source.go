package engine

import (
	"crypto/sha256"
	"encoding/hex"

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
