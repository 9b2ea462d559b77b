package observer

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// A Problem is a row that was set aside.
type Problem struct {
	File string
	Line int
	What string
}

// String is the problem on one line.
func (p Problem) String() string { return fmt.Sprintf("%s:%d: %s", p.File, p.Line, p.What) }

// headers of the three columns, each its own name first, in small letters.
// Synonyms are common practice, no source.
var headers = [3][]string{
	{"observer", "scout", "name", "who"},
	{"estimated", "estimate", "guess", "guessed", "seen"},
	{"counted", "count", "exact", "true", "truth", "actual"},
}

const (
	mostBytes = 16 << 20
	mostPairs = 200_000
)

// ReadPairs reads a CSV table with the columns observer, estimated and counted;
// without a column for the observer all pairs are of one. Rows that cannot be
// used are set aside and named: rows read are pairs and problems together.
func ReadPairs(name string, r io.Reader) (pairs []Pair, problems []Problem, err error) {
	text, err := io.ReadAll(io.LimitReader(r, mostBytes+1))
	if err != nil {
		return nil, nil, err
	}
	if len(text) > mostBytes {
		return nil, nil, fmt.Errorf("%s: more than %d MiB; a table of pairs is smaller", name, mostBytes>>20)
	}
	table := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(text, []byte("\ufeff"))))
	table.FieldsPerRecord = -1
	first, _, _ := bytes.Cut(text, []byte("\n"))
	if bytes.Count(first, []byte(";")) > bytes.Count(first, []byte(",")) {
		table.Comma = ';'
	}
	header, err := table.Read()
	if errors.Is(err, io.EOF) {
		return nil, nil, fmt.Errorf("%s: empty; want columns observer, estimated, counted", name)
	}
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", name, err)
	}
	at := [3]int{}
	for i, names := range headers {
		at[i] = find(header, names)
	}
	if at[1] < 0 || at[2] < 0 {
		return nil, nil, fmt.Errorf("%s: the header has %q; want columns observer, estimated, counted", name, header)
	}
	return readRows(name, table, at)
}

func find(header, names []string) int {
	for _, want := range names {
		for i, h := range header {
			if strings.ToLower(strings.TrimSpace(h)) == want {
				return i
			}
		}
	}
	return -1
}

func readRows(name string, table *csv.Reader, at [3]int) (pairs []Pair, problems []Problem, err error) {
	for {
		row, err := table.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		var broken *csv.ParseError
		if errors.As(err, &broken) {
			problems = append(problems, Problem{name, broken.Line, broken.Err.Error() + "; correct the quotes of the row"})
			continue
		}
		if err != nil {
			return nil, nil, err
		}
		if len(pairs)+len(problems) >= mostPairs {
			return nil, nil, fmt.Errorf("%s: more than %d rows", name, mostPairs)
		}
		line, _ := table.FieldPos(0)
		p, err := pairOf(row, at)
		if err != nil {
			problems = append(problems, Problem{name, line, err.Error()})
			continue
		}
		pairs = append(pairs, p)
	}
	if len(pairs) == 0 {
		what := "no rows below the header"
		if len(problems) > 0 {
			what = "no row can be used; the first: " + problems[0].String()
		}
		return nil, problems, fmt.Errorf("%s: %s", name, what)
	}
	return pairs, problems, nil
}

func pairOf(row []string, at [3]int) (Pair, error) {
	cell := func(i int) string {
		if at[i] < 0 || at[i] >= len(row) {
			return ""
		}
		return strings.TrimSpace(row[at[i]])
	}
	p := Pair{Observer: cell(0)}
	if at[0] >= 0 && p.Observer == "" {
		return p, errors.New("column observer is blank; write who estimated")
	}
	for i, to := range []*float64{&p.Estimated, &p.Counted} {
		text, column := cell(i+1), headers[i+1][0]
		if text == "" {
			return p, fmt.Errorf("column %s is blank; a blank is not a zero: write 0 where none was seen", column)
		}
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return p, fmt.Errorf("column %s: %q is no number", column, text)
		}
		*to = v
	}
	return p, p.Validate()
}
