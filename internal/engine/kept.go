//go:build !small

package engine

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"runtime"
	"slices"

	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/recall"
)

// keepOf asks a request for what keeps its work; nil where nothing is kept.
func keepOf(q MapRequest) (func(fields int) (Keep, error), error) {
	if q.Keep == nil {
		return nil, nil
	}
	keep := q.Keep // alone: the request holds the files
	of, err := q.depends()
	return func(fields int) (Keep, error) { return keep(fields, of) }, err
}

// depends is all that what is kept of a map depends on: program, settings, files.
func (q MapRequest) depends() (all []Depends, err error) {
	add := func(what string, content []byte) {
		sum := sha256.Sum256(content)
		all = append(all, Depends{what, hex.EncodeToString(sum[:])})
	}
	// Some processors round a product and a sum in one step.
	add("version of the program", []byte(q.Version+" "+runtime.GOARCH))
	add("setting part", []byte(q.Part.String()))
	set, err := q.Settings.byName()
	if err != nil {
		return nil, err
	}
	for _, name := range slices.Sorted(maps.Keys(set)) {
		if !slices.Contains(ofFilesAlone, name) {
			add("setting "+name, set[name])
		}
	}
	for _, from := range slices.Concat(q.Samples, []Source{q.Boundary}, q.inputs()) {
		add(from.Name, from.Content)
		for _, extension := range slices.Sorted(maps.Keys(from.Beside)) {
			add(from.Name+" with its "+extension, from.Beside[extension])
		}
	}
	return all, nil
}

// ofFilesAlone are settings by which no field is worked out.
var ofFilesAlone = []string{"out", "strict", "write"}

// keepIn has the work on the fields kept, where it can be.
func (m *morning) keepIn(set *assess.Settings, b *bench) {
	if m.keep == nil || !set.Forget {
		return
	}
	set.Keeper = func(r *assess.Result) (assess.Keeper, error) {
		less := *r.Survey // the fields have the stops, and the result those away
		less.Stops = nil
		r.Survey = &less
		keep, err := m.keep(r.Scouted())
		if err != nil || keep == nil {
			return nil, err
		}
		return keeper{b, keep}, nil
	}
}

// A keeper keeps fields with their answers.
type keeper struct {
	bench *bench
	in    Keep
}

// keptField is what is kept of a field.
type keptField struct {
	Field  assess.Kept
	Answer verdict.Verdict
}

// Restore implements [assess.Keeper]. What cannot be read is worked out anew.
func (k keeper) Restore(number int, f *assess.Field) (ok bool, err error) {
	piece, ok := k.in.Load(pieceName(number, f))
	if !ok {
		return false, nil
	}
	var kept keptField
	if recall.Unpack(piece, &kept) != nil || f.Restore(kept.Field) != nil {
		return false, nil
	}
	k.bench.give(f, kept.Answer)
	return true, nil
}

// Keep implements [assess.Keeper].
func (k keeper) Keep(number int, f *assess.Field) error {
	piece, err := recall.Pack(keptField{f.Kept(), k.bench.answer(f)})
	if err != nil {
		return err
	}
	return k.in.Save(pieceName(number, f), piece)
}

func pieceName(number int, f *assess.Field) string { return fmt.Sprintf("%d %s", number, f.Name) }

// answer is what was given of a field.
func (b *bench) answer(f *assess.Field) verdict.Verdict {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.given[f]
}
