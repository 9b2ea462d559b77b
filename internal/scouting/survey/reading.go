package survey

import (
	"fmt"
	"runtime"
	"slices"
	"sync"
)

// mostRefused is how many rows of a file may be set aside before the file is taken
// for something else: nobody corrects so many by hand.
const mostRefused = 10_000

// rowsAtOnce is how many rows are read before those refused are counted, so that a
// file of something else is given up before all its problems are written.
const rowsAtOnce = 1 << 15

// records reads the rows of a table into as many records, with what is wrong with
// each. The processors share the work.
func (l *layout) records(t table) ([]Record, [][]Problem, error) {
	records := make([]Record, len(t.Rows))
	problems := make([][]Problem, len(t.Rows))
	refused := 0
	for start := 0; start < len(t.Rows); start += rowsAtOnce {
		end := min(start+rowsAtOnce, len(t.Rows))
		inParts(start, end, func(from, to int) {
			rd := reader{layout: l, table: t}
			for i := from; i < to; i++ {
				problems[i] = rd.read(t.Rows[i], &records[i])
			}
		})
		for _, found := range problems[start:end] {
			if !slices.ContainsFunc(found, Problem.refuses) {
				continue
			}
			if refused++; refused > mostRefused {
				return nil, nil, fmt.Errorf("%s: more than %d rows cannot be used: is this a table of counts? the last of them: %s", t.File, mostRefused, found[0])
			}
		}
	}
	return records, problems, nil
}

// fewRows are not worth to be shared.
const fewRows = 512

// inParts calls do for parts that together make start to end, at the same time
// where there are processors for it.
func inParts(start, end int, do func(from, to int)) {
	parts := min(runtime.GOMAXPROCS(0), 1+(end-start)/fewRows)
	var wait sync.WaitGroup
	for part := range parts {
		from, to := start+part*(end-start)/parts, start+(part+1)*(end-start)/parts
		wait.Go(func() { do(from, to) })
	}
	wait.Wait()
}
