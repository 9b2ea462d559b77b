// Package archive opens zip archives that are whole: a spreadsheet, a KMZ, a zipped
// Shapefile. Their bytes are held in memory.
package archive

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
)

// Signature begins every archive that holds a part (APPNOTE.TXT 6.3.10, 4.3.7).
const Signature = "PK\x03\x04"

// Is reports whether a file is an archive by how it begins.
func Is(head []byte) bool { return bytes.HasPrefix(head, []byte(Signature)) }

// mostParts bounds the parts of an archive, which take work however small they are.
const mostParts = 10_000

// Open reads the list of contents at the end of an archive and compares it with the
// name that stands before each part itself. So a part whose name in the list is
// damaged is reported, and not taken for one that was never there. The bytes of a part
// have a checksum of their own: see [ReadWhole].
func Open(raw []byte) (*zip.Reader, error) {
	z, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw)))
	if err != nil {
		return nil, err
	}
	if len(z.File) > mostParts {
		return nil, fmt.Errorf("holds %d files, more than %d", len(z.File), mostParts)
	}
	seen := map[string]bool{}
	for _, part := range z.File {
		if seen[part.Name] {
			return nil, fmt.Errorf("holds %q twice", part.Name)
		}
		seen[part.Name] = true
		at, err := part.DataOffset()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", part.Name, err)
		}
		if name, ok := nameBefore(raw, at, len(part.Name)); !ok || name != part.Name {
			return nil, fmt.Errorf("its list of contents names %q, and no such part is there", part.Name)
		}
	}
	return z, nil
}

// nameBefore is the name in the header of the part whose data begin at an offset. The
// header is a signature, 26 bytes of which the last four tell the lengths of the name
// and of what may stand between it and the data, and these two (APPNOTE.TXT 6.3.10,
// 4.3.7). Where it begins has to be found: the list's own word is not passed on.
func nameBefore(raw []byte, data int64, length int) (name string, ok bool) {
	const fixed, lengths, mostExtra = 30, 26, 1<<16 - 1
	signature := []byte(Signature)
	if data > int64(len(raw)) {
		return "", false
	}
	before := raw[max(0, data-int64(fixed+length+mostExtra)):data]
	for at := len(before) - fixed - length; at >= 0; at-- {
		if at = bytes.LastIndex(before[:at+len(signature)], signature); at < 0 {
			break
		}
		header := before[at:]
		n, extra := int(binary.LittleEndian.Uint16(header[lengths:])), int(binary.LittleEndian.Uint16(header[lengths+2:]))
		if n == length && fixed+n+extra == len(header) {
			return string(header[fixed : fixed+n]), true
		}
	}
	return "", false
}

// ErrMuch is a part that holds more than it may.
var ErrMuch = errors.New("unpacks to too much")

// ReadWhole passes over a part to its end, most bytes at the most, and tells how many
// they are; one that breaks off, or does not fit its checksum, is an error.
func ReadWhole(part *zip.File, most int64) (n int64, err error) {
	r, err := part.Open()
	if err != nil {
		return 0, fmt.Errorf("%s: %w", part.Name, err)
	}
	defer r.Close()
	n, err = io.Copy(io.Discard, io.LimitReader(r, most+1))
	switch {
	case err != nil:
		return n, fmt.Errorf("%s: %w", part.Name, err)
	case n > most:
		return n, fmt.Errorf("%s: %w", part.Name, ErrMuch)
	}
	return n, nil
}
