package cli

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/files/folder"
)

// A growerMap is the map of one grower's fields, and the folder for it.
type growerMap struct {
	part engine.GrowerPart
	run  mapRun
	made *engine.MapOutcome
}

// byGrower maps the fields of each grower into a folder of their own, below that of the
// command, with an overview of all fields beside them. All are worked out before the first
// is written.
func (m mapRun) byGrower(ctx context.Context, s Streams, q engine.MapRequest) error {
	if m.options.JSON {
		return usageError{errors.New("--json prints one summary, and --by-grower makes several: leave out one of them")}
	}
	if m.resume {
		return usageError{errors.New("--resume and --by-grower do not go together: map some growers at a time with --only")}
	}
	if m.part.Of > 0 {
		return usageError{errors.New("--part and --by-grower both say which fields go together: leave out one of them")}
	}
	if err := m.load(&q, s); err != nil {
		return err
	}
	parts, notes, err := q.ByGrower()
	if err != nil {
		return err
	}
	for _, note := range notes {
		m.note(s, note)
	}
	if err := m.checkGrowers(parts); err != nil {
		return err
	}
	maps, nobody, err := m.mapGrowers(ctx, s, q, parts)
	if err != nil {
		return err
	}
	if err := m.checkEarlier(s, maps); err != nil {
		return err
	}
	var all []*engine.MapOutcome
	for _, one := range maps {
		all = append(all, one.made)
	}
	overview, err := engine.Overview(q, all, nobody)
	if err != nil {
		return err
	}
	return m.writeGrowers(s, maps, overview)
}

// mapGrowers makes the map of each grower for whom somebody counted; nobody are the
// fields of the others.
func (m mapRun) mapGrowers(ctx context.Context, s Streams, q engine.MapRequest, parts []engine.GrowerPart) (maps []growerMap, nobody []string, err error) {
	for _, part := range parts {
		one := growerMap{part: part, run: m}
		one.run.options.Out = filepath.Join(m.options.Out, part.Folder)
		q.OfMany = len(parts) > 1
		q.Settings.Only, q.Settings.Out = part.Fields, one.run.options.Out
		progress := newProgress(s.Err, m.options.Quiet)
		q.Progress = progress.show
		one.made, err = engine.Map(ctx, q)
		progress.clear()
		if engine.NobodyThere(err) {
			m.note(s, fmt.Sprintf("%s: nobody counted in %s", growerName(part), strings.Join(part.Fields, ", ")))
			nobody = append(nobody, part.Fields...)
			continue
		}
		if err != nil {
			return nil, nil, failed(s, err)
		}
		maps = append(maps, one)
	}
	if len(maps) == 0 {
		return nil, nil, errors.New("no stop lies in the fields asked for")
	}
	return maps, nobody, nil
}

func (m mapRun) note(s Streams, text string) {
	if !m.options.Quiet {
		fmt.Fprintf(s.Err, "note: %s\n", text)
	}
}

// checkEarlier refuses maps that would stay from an earlier run, of growers for whom
// nobody counted now or whom the list names no longer: beside those of this run they
// would be taken for today's. With --force they stay, and it is said.
func (m mapRun) checkEarlier(s Streams, maps []growerMap) error {
	entries, err := os.ReadDir(m.options.Out)
	if err != nil && !os.IsNotExist(err) {
		return err
	}
	for _, e := range entries {
		path := filepath.Join(m.options.Out, e.Name())
		written := func(one growerMap) bool { return strings.EqualFold(one.part.Folder, e.Name()) }
		if !e.IsDir() || slices.ContainsFunc(maps, written) || !isMapFolder(path) {
			continue
		}
		text := path + " holds an earlier map, and nothing in it is of this run"
		if !m.options.Force {
			return hintedError{errors.New(text), "choose another folder with --out, or move that one away"}
		}
		fmt.Fprintf(s.Err, "note: %s\n", text)
	}
	return nil
}

func growerName(p engine.GrowerPart) string {
	if p.Grower == "" {
		return "no grower is known"
	}
	return p.Grower
}

// checkGrowers refuses folders with other files in them, before any work is done.
func (m mapRun) checkGrowers(parts []engine.GrowerPart) error {
	entries, err := os.ReadDir(m.options.Out)
	if err != nil && !os.IsNotExist(err) {
		return hintedError{err, "--out names a folder for the files"}
	}
	for _, e := range entries {
		known := slices.Contains(engine.OverviewFiles[:], e.Name()) || folder.IsOwn(e.Name()) || e.IsDir() && isMapFolder(filepath.Join(m.options.Out, e.Name()))
		if !known && !m.options.Force {
			return hintedError{fmt.Errorf("%s holds other files, such as %s", m.options.Out, e.Name()), "choose another folder with --out, or give --force to write beside them"}
		}
	}
	if err := folder.CheckApart(m.options.Out, engine.OverviewFiles[:], m.inputs()); err != nil {
		return err
	}
	for _, part := range parts {
		out := filepath.Join(m.options.Out, part.Folder)
		if err := checkFolder(out, m.inputs(), mapNames(out), m.options.Force); err != nil {
			return err
		}
		if err := checkRun(out, "map"); err != nil {
			return err
		}
	}
	return nil
}

func (m mapRun) writeGrowers(s Streams, maps []growerMap, overview []engine.File) error {
	aside := 0
	for _, one := range maps {
		out := one.run.options.Out
		if err := writeFolder(s, out, outFiles(one.made.Files), mapNames(out)); err != nil {
			return err
		}
		if !m.options.Quiet {
			fmt.Fprintf(s.Out, "%s\n", growerName(one.part))
		}
		if err := one.run.options.print(s, one.made); err != nil {
			return err
		}
		if !m.options.Quiet {
			fmt.Fprintln(s.Out)
		}
		aside = max(aside, one.made.SetAside())
	}
	if err := writeFolder(s, m.options.Out, outFiles(overview), engine.OverviewFiles[:]); err != nil {
		return err
	}
	if !m.options.Quiet {
		fmt.Fprintf(s.Out, "%s\n", m.options.Said().Say("Files in %s: %s", m.options.Out, strings.Join(engine.OverviewFiles[:], ", ")))
	}
	return m.options.strictly(aside)
}
