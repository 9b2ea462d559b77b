package cli

import "github.com/geocoris/geocoris/internal/engine"

func (r tallyRun) card() error {
	made, err := engine.TallyCard(r.options.TallySettings, r.options.PerStop)
	if err != nil {
		return err
	}
	if err := r.write(made.Files); err != nil {
		return err
	}
	return made.Card.WriteText(r.streams.Out)
}

func (r tallyRun) curves() error {
	o := r.options
	made, err := engine.TallyCurves(engine.TallyCurvesRequest{
		TallySettings: o.TallySettings, PerStop: o.PerStop, Clustering: o.Clusters, Runs: o.Runs, Seed: o.Seed,
	})
	if err != nil {
		return err
	}
	if err := r.write(made.Files); err != nil {
		return err
	}
	return made.Curves.WriteText(r.streams.Out)
}

// write writes files where they are asked for.
func (r tallyRun) write(files []engine.File) error {
	if r.options.Out == "" {
		return nil
	}
	return writeOnce(r.streams, onceFolder{path: r.options.Out, force: r.options.Force}, files)
}
