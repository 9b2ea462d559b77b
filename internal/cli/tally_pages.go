package cli

import (
	"bytes"
	"fmt"
	"io"

	"github.com/geocoris/geocoris/internal/output/fieldwork"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
)

func (r tallyRun) card() error {
	card := fieldwork.Card{Tally: r.words, Set: r.options.settings(), PerStop: r.options.PerStop}
	walk := sampling.Walk{PerStop: card.PerStop}
	if err := walk.Validate(); err != nil {
		return usageError{err}
	}
	if r.options.Out != "" {
		if err := writePages(r.streams, pageFolder{path: r.options.Out, force: r.options.Force}, []page{{"card.html", card.WriteHTML}}); err != nil {
			return err
		}
	}
	return card.WriteText(r.streams.Out)
}

func (r tallyRun) curves() error {
	walk := sampling.Walk{Stops: r.options.settings(), PerStop: r.options.PerStop, Clustering: r.options.Clusters, Runs: r.options.Runs, Seed: r.options.Seed}
	points, err := sampling.Simulate(r.words.Plan.Rule, walk, sampling.Range(r.words.Plan.Rule))
	if err != nil {
		return usageError{err}
	}
	curves := fieldwork.Curves{Tally: r.words, Walk: walk, Points: points}
	if r.options.Out != "" {
		pages := []page{{"curves.csv", curves.WriteCSV}, {"curves.svg", curves.WriteSVG}}
		if err := writePages(r.streams, pageFolder{path: r.options.Out, force: r.options.Force}, pages); err != nil {
			return err
		}
	}
	return curves.WriteText(r.streams.Out)
}

// page is a file to be rendered.
type page struct {
	name  string
	write func(io.Writer) error
}

// pageFolder is where files go that are written once.
type pageFolder struct {
	path   string
	inputs []string // that must stay
	force  bool     // overwrite files of the same names
}

// writePages renders files and writes all or none into a folder; a file that is
// there already is overwritten with force only.
func writePages(s Streams, to pageFolder, pages []page) error {
	files := make([]outFile, len(pages))
	for i, p := range pages {
		files[i].name = p.name
	}
	if err := checkNew(to.path, to.inputs, namesOf(files), to.force); err != nil {
		return err
	}
	for i, p := range pages {
		var b bytes.Buffer
		if err := p.write(&b); err != nil {
			return fmt.Errorf("%s: %w", p.name, err)
		}
		files[i].content = b.Bytes()
	}
	return writeNew(s, to.path, files, to.force)
}
