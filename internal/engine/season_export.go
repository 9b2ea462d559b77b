//go:build !small

package engine

import (
	"bytes"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/season"
)

// A SeasonExportRequest asks for the counts of a season back.
type SeasonExportRequest struct {
	Season SeasonReader
	Visits []int64 // numbers; none for all
}

// fieldsFile is the name of the file of the fields of a season.
const fieldsFile = "fields.geojson"

// ExportSeason gives the counts back byte for byte, the files that the settings of the
// visits name, and the fields, last. Files of one name get the number of their visit in
// front, but for files of settings that are the same to the byte: they come once.
func ExportSeason(q SeasonExportRequest) ([]File, error) {
	fields, err := q.Season.Fields()
	if err != nil {
		return nil, err
	}
	chosen := q.Visits
	if len(chosen) > 0 {
		fields = nil
	} else if chosen, err = allVisits(q.Season); err != nil {
		return nil, err
	}
	given, kept := exported{{Name: fieldsFile}}, map[string]geo.Properties{} // the name is taken
	for _, id := range chosen {
		v, err := q.Season.Visit(id)
		if err != nil {
			return nil, err
		}
		given.add(v)
		for _, f := range v.Fields {
			kept[f.Name] = lastKnown(kept[f.Name], v.Kept[f.Name])
			if k := slices.IndexFunc(fields, func(other geo.Field) bool { return other.Name == f.Name }); k < 0 {
				fields = append(fields, f)
			} else {
				fields[k] = season.Known(fields[k], f)
			}
		}
	}
	var b bytes.Buffer
	if err := collection(knownFields(fields, kept))(&b); err != nil {
		return nil, err
	}
	return append(given[1:], File{fieldsFile, b.Bytes()}), nil
}

// lastKnown are properties as a later visit knows them, and those that it does not tell as
// an earlier one did.
func lastKnown(earlier, later geo.Properties) geo.Properties {
	all := slices.Clone(later)
	for _, p := range earlier {
		if _, told := later.Get(p.Name); !told {
			all = append(all, p)
		}
	}
	return all
}

// knownFields are fields with what is known of them, as a boundary has it.
func knownFields(fields []geo.Field, kept map[string]geo.Properties) []geo.Feature {
	features := featuresOf(fields)
	for i, f := range fields {
		whose := geo.Properties{{Name: "customer", Value: f.Customer}, {Name: "farm", Value: f.Farm}}
		for _, p := range slices.Concat(whose, kept[f.Name]) {
			if p.Value != "" {
				features[i].Properties = append(features[i].Properties, p)
			}
		}
	}
	return features
}

func allVisits(s SeasonReader) (ids []int64, err error) {
	lines, err := s.List()
	for _, l := range lines {
		ids = append(ids, l.ID)
	}
	return ids, err
}

// exported are the files that are given back so far.
type exported []File

// add adds the files of a visit.
func (e *exported) add(v season.Visit) {
	for i, f := range v.Files {
		*e = append(*e, File{e.free(f.Name, fmt.Sprintf("%d-%d-", v.ID, i+1)), f.Content})
	}
	for _, f := range v.SettingsFiles {
		there := func(o File) bool {
			return o.Name != fieldsFile && bytes.Equal(o.Content, f.Content) && strings.HasSuffix(o.Name, plainBase(f.Name))
		}
		if !slices.ContainsFunc(*e, there) {
			*e = append(*e, File{e.free(f.Name, fmt.Sprintf("%d-%s-", v.ID, f.Setting)), f.Content})
		}
	}
}

// free is a name that no file has, with a beginning before it where one has.
func (e exported) free(name, before string) string {
	name = plainBase(name)
	if slices.ContainsFunc(e, func(f File) bool { return f.Name == name }) {
		return before + name
	}
	return name
}

// plainBase is a name that never leads out of a folder.
func plainBase(name string) string { return filepath.Base(filepath.ToSlash(name)) }
