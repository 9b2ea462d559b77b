package survey

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"strings"
)

// repeats finds rows that are there twice, in a file or in several under the same
// header. A repeat is alike in every cell, and even so two leaves of a stop may
// well be alike: often both are empty, and to drop them would raise the mean. So a
// row can be recognised as a repeat only
//
//   - where it names both its plant and its leaf, or
//   - in a file that by custom has one row for each stop, day, plant and leaf: where
//     more than half of these stand alone, or
//   - where most places come again, as [copies] tells.
type repeats struct {
	rows   map[[sha256.Size]byte]place  // header and cells, hashed → where first
	tables map[[sha256.Size]byte]string // whole, hashed → file; nil where there is but one
	header [sha256.Size]byte            // of the table at hand
	buffer []byte
}

// appendCell writes a cell behind its length, so that no two rows of cells are
// written alike.
func appendCell(b []byte, cell string) []byte {
	return append(binary.AppendUvarint(b, uint64(len(cell))), cell...)
}

type place struct {
	file string
	line int
}

// from says where the place is, seen from a file.
func (p place) from(file string) string {
	if p.file == file {
		return fmt.Sprintf("line %d", p.line)
	}
	return fmt.Sprintf("%s:%d", p.file, p.line)
}

func newRepeats(tables int) *repeats {
	r := &repeats{rows: map[[sha256.Size]byte]place{}}
	if tables > 1 {
		r.tables = map[[sha256.Size]byte]string{}
	}
	return r
}

// numbered says whether the row names both its plant and its leaf.
func (r *Record) numbered() bool { return r.Plant != "" && r.Leaf != "" }

// numbered says whether all the rows do, as then no other way to tell them apart
// need be sought.
func numbered(records []Record) bool {
	for i := range records {
		if !records[i].numbered() {
			return false
		}
	}
	return true
}

// addresses says whether each row of the file has one of its own by custom.
func addresses(l *layout, records []Record) bool {
	type address struct {
		stop, date, plant, leaf string
		lon, lat                float64
	}
	rows := map[address]int{}
	var last address
	alike := 0 // rows of the last address, not yet entered: leaves of a stop stand together
	for i := range records {
		r := &records[i]
		a := address{stop: r.Stop, date: r.Date, plant: r.Plant, leaf: r.Leaf}
		if l.unnamed {
			a.lon, a.lat = r.Longitude, r.Latitude
		}
		if alike > 0 && a != last {
			rows[last] += alike
			alike = 0
		}
		last = a
		alike++
	}
	if alike > 0 {
		rows[last] += alike
	}
	alone := 0
	for _, n := range rows {
		if n == 1 {
			alone++
		}
	}
	return 2*alone > len(rows)
}

// expect makes room for the rows of a first table at once.
func (r *repeats) expect(rows int) {
	if len(r.rows) == 0 {
		r.rows = make(map[[sha256.Size]byte]place, rows)
	}
}

// firstOf returns where a row alike stood before, or a place without a line, and
// remembers this one.
func (r *repeats) firstOf(t table, row row) place {
	r.buffer = append(r.buffer[:0], r.header[:]...)
	for _, c := range trimmed(row.Cells) {
		r.buffer = appendCell(r.buffer, strings.TrimSpace(c))
	}
	key := sha256.Sum256(r.buffer)
	if at, known := r.rows[key]; known {
		return at
	}
	r.rows[key] = place{t.File, row.Line}
	return place{}
}

// open takes up a table, and refuses one that was given before, if under another
// name.
func (r *repeats) open(t table) error {
	h := sha256.New()
	fmt.Fprintf(h, "%q\n", t.Header)
	r.header = [sha256.Size]byte(h.Sum(nil))
	if len(t.Rows) == 0 || r.tables == nil {
		return nil
	}
	for _, row := range t.Rows {
		r.buffer = r.buffer[:0]
		for _, c := range row.Cells {
			r.buffer = appendCell(r.buffer, c)
		}
		h.Write(append(r.buffer, '\n'))
	}
	sum := [sha256.Size]byte(h.Sum(nil))
	if before, known := r.tables[sum]; known {
		return fmt.Errorf("%s: holds the same rows as %s; give one of the two", t.File, before)
	}
	r.tables[sum] = t.File
	return nil
}
