package cli

import (
	"fmt"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/files/folder"
)

// aPart holds a part of a region back from a folder with fields that the part has not: as
// with the same --out for each part, they would be gone, and nobody would see it. A part
// may take the place of itself and of smaller ones in it, and the whole that of any part:
// nothing is lost then. The zero value lets all be.
type aPart struct {
	run          mapRun
	boundary     engine.Source
	all, written []string // names of fields
}

// of makes it that of a part, once it is known which fields are in it, and checks before
// they are worked out.
func (p *aPart) of(m mapRun, boundary engine.Source) func(all, written []string) error {
	return func(all, written []string) error {
		*p = aPart{m, boundary, all, written}
		return p.check()
	}
}

func (p *aPart) check() error {
	out := p.run.options.Out
	if p.written == nil || p.run.options.Force || !isMap(out) {
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
func (p *aPart) write(s Streams, out string, made *engine.MapOutcome) error {
	return s.writer().Update(s.context(), out, func() (folder.Change, error) {
		return folder.Change{Files: outputs(filesOf(made)), Stale: mapNames(out)}, p.check()
	})
}
