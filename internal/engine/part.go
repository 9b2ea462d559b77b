package engine

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A Part is one of several parts of a region: fields that follow one another in the
// boundary. Each field is in one of them, and they differ by one field at most. The zero
// value is the whole.
type Part struct{ Number, Of int }

// mostParts bounds the number of parts, far above the fields of any region: our choice.
const mostParts = 1_000_000

// ParsePart reads K/N, the K-th of N parts.
func ParsePart(text string) (Part, error) {
	number, of, ok := strings.Cut(text, "/")
	k, errK := strconv.Atoi(number)
	n, errN := strconv.Atoi(of)
	if !ok || errK != nil || errN != nil || n < 1 || n > mostParts || k < 1 || k > n {
		return Part{}, usage(fmt.Errorf("--part %q: want K/N, the part and how many there are, such as 3/20: K from 1 to N, N from 1 to %d", text, mostParts))
	}
	return Part{k, n}, nil
}

// String is the part as it is asked for; "" of the whole.
func (p Part) String() string {
	if p.Of == 0 {
		return ""
	}
	return fmt.Sprintf("%d/%d", p.Number, p.Of)
}

// flag is how it was asked for.
func (p Part) flag() string { return "--part " + p.String() }

// only are the names of the fields of the part, of those asked for where some are.
func (p Part) only(o boundary.Outlines, asked []string) ([]string, error) {
	if p.Of == 0 {
		return asked, nil
	}
	names := outlineNames(o)
	at, err := assess.Chosen(names, asked)
	if err != nil {
		return nil, usage(fmt.Errorf("--only: %w", err))
	}
	var of []string
	for _, i := range at[(p.Number-1)*len(at)/p.Of : p.Number*len(at)/p.Of] {
		of = append(of, names[i])
	}
	if of == nil {
		return nil, errEmptyPart
	}
	return of, nil
}

func outlineNames(o boundary.Outlines) (names []string) {
	for _, f := range o.Fields {
		names = append(names, f.Name)
	}
	return names
}

var errEmptyPart = errors.New("no field is in this part")

// explained is an error in words of the part. That nothing is in it is no failure
// ([NothingInPart]), unless rows there could not be read.
func (p Part) explained(err error) error {
	var unread assess.NoneReadError
	switch {
	case p.Of == 0 || err == nil:
		return err
	case errors.As(err, &unread):
		return hinted(fmt.Errorf("%s: %w", p.flag(), err), "correct these rows, which check names, or ask for fewer parts")
	case errors.Is(err, errEmptyPart):
		return NothingInPart{fmt.Sprintf("%s: there are fewer fields than parts, and none is in this one", p.flag())}
	case errors.Is(err, assess.ErrNoneThere):
		return NothingInPart{fmt.Sprintf("%s: nobody counted in its fields", p.flag())}
	}
	return err
}

// NothingInPart is a part of a region in which there is nothing to be mapped.
type NothingInPart struct{ text string }

func (e NothingInPart) Error() string { return e.text }

// Result is that of a map without fields, which says why.
func (e NothingInPart) Result() *assess.Result {
	return &assess.Result{Survey: &survey.Survey{}, Notes: []string{e.text}}
}
