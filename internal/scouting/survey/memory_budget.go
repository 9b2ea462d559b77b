package survey

import (
	"errors"
	"fmt"
)

// memoryBudget is what the cells of a table may still take of the machine's memory where
// they are not parts of the file's own text: a table of features has a cell for each
// feature and property, and a spreadsheet one for each column up to the last that
// is filled, however few of them the file spells out.
type memoryBudget struct {
	limits Limits
	cells  int64
	bytes  int64
}

// spareCells is how many cells a table may have without a byte of its file for each.
const spareCells = 500_000

// newMemoryBudget is for the cells of a file of the given size, unpacked.
func newMemoryBudget(limits Limits, size int64) memoryBudget {
	most := limits.Bytes / 4 // a cell is sixteen bytes and its text
	if size < most {
		most = min(most, spareCells+2*size)
	}
	return memoryBudget{limits: limits, cells: most, bytes: limits.Bytes}
}

var errOverBudget = errors.New("its rows and columns are more than the file can fill: is this a table of counts?")

// take accounts for the cells of a row, of which some may be blank ones behind
// those given.
func (r *memoryBudget) take(cells []string, columns int) error {
	if r.cells -= int64(max(columns, len(cells))); r.cells < 0 {
		return errOverBudget
	}
	for _, c := range cells {
		if err := r.hold(len(c)); err != nil {
			return err
		}
	}
	return nil
}

// hold accounts for the text of a cell.
func (r *memoryBudget) hold(bytes int) error {
	if bytes >= r.limits.CellBytes {
		return fmt.Errorf("a cell of more than %s", sizeOf(int64(r.limits.CellBytes)))
	}
	if r.bytes -= int64(bytes); r.bytes < 0 {
		return fmt.Errorf("its cells hold more than %s: is this a table of counts?", sizeOf(r.limits.Bytes))
	}
	return nil
}
