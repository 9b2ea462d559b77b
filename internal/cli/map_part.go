package cli

import (
	"fmt"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/files/folder"
)

// aPart keeps a part of a region from being written over a map of fields that are not in
// it: with one --out for all parts those would be gone, and nobody would notice. A part may
// take the place of itself and of smaller ones in it, and the whole that of any part:
// nothing is lost then. Until it is asked which fields are in the part it lets all be.
type aPart struct {
	run          mapRun
	boundary     engine.Source
	all, written []string // names of fields
}

// over is asked which fields are in the part, before they are worked out.
func (p *aPart) over(all, written []string) error {
	p.all, p.written = all, written
	return p.check()
}

func (p *aPart) check() error {
	out := p.run.options.Out
	if p.written == nil || p.run.options.Force || !isMapFolder(out) {
		return nil
	}
	there, err := mapFolder(out)
	if err != nil {
		return err
	}
	if lost := there.Loses(p.boundary, p.all, p.written); lost != "" {
		return hintedError{fmt.Errorf("--part %s: %s holds field %q of this boundary, which is not in this part and would be lost", p.run.part, out, lost),
			"give each part a folder of its own with --out, such as part-1, or --force to overwrite this one"}
	}
	return nil
}

// write writes a map, and checks again: another machine may have written its part
// meanwhile.
func (p *aPart) write(s Streams, kept *folder.Kept, made *engine.MapOutcome) error {
	out, w := p.run.options.Out, s.writer()
	w.Kept = kept
	return w.Update(s.context(), out, func() (folder.Change, error) {
		return folder.Change{Files: outputs(filesOf(made)), Stale: mapNames(out)}, p.check()
	})
}
