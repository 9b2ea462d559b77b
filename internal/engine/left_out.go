//go:build !small

package engine

import (
	"fmt"

	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// leftOut says which fields are not in a file that was asked for: have no picture of their
// own, or no ground in one for other programs.
func (m *morning) leftOut(r *assess.Result) (notes []string) {
	names, err := m.Settings.wanted()
	if err != nil {
		return nil
	}
	var scouted, not []string
	for _, f := range r.Fields {
		switch {
		case f.Scouted():
			scouted = append(scouted, f.Name)
		case !f.NoneRead():
			not = append(not, f.Name)
		}
	}
	for _, name := range names {
		if (name == pngFile || name == svgFile) && len(scouted) > mostPictures {
			notes = append(notes, fmt.Sprintf("%s shows all fields, but only the first %d have a picture of their own, not %s: map.pdf and the report have all",
				name, mostPictures, survey.Listed(scouted[mostPictures:])))
		}
	}
	for _, name := range []string{sequenceFile, packageFile} {
		if m.Settings.wants(name) {
			notes = append(notes, notScoutedNotes(name+" has no ground", not)...)
		}
	}
	return notes
}
