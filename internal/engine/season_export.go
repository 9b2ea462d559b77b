//go:build !small

package engine

import (
	"bytes"
	"encoding/json"
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

// fieldsFile and treatmentsFile are the names of the files of a season's fields and treatments.
const (
	fieldsFile     = "fields.geojson"
	treatmentsFile = "treatments.geojson"
)

// ExportSeason gives the counts back byte for byte, the files that the settings of the
// visits name, and, last, the fields and, of the whole season, its treatments. Files of one
// name get the number of their visit in front, but for files of settings that are the same to
// the byte: they come once. Visits that were added with other fields than one another get a file
// of fields each, named by their numbers, so that each counts again in those alone.
func ExportSeason(q SeasonExportRequest) ([]File, error) {
	known, err := q.Season.Fields()
	if err != nil {
		return nil, err
	}
	order := map[string]int{}
	for i, f := range known {
		order[f.Name] = i
	}
	whole, chosen := len(q.Visits) == 0, q.Visits
	if whole {
		if chosen, err = allVisits(q.Season); err != nil {
			return nil, err
		}
	}
	given := exported{{Name: fieldsFile}, {Name: treatmentsFile}} // the names are taken
	var sets []fieldSet
	for _, id := range chosen {
		v, err := q.Season.Visit(id)
		if err != nil {
			return nil, err
		}
		given.add(v)
		sets = withSet(sets, v)
	}
	if len(sets) == 0 {
		sets = []fieldSet{{fields: known}}
	}
	files := given[2:]
	for _, set := range sets {
		name := fieldsFile
		if len(sets) > 1 {
			name = "fields-" + ranges(set.visits) + ".geojson"
		}
		slices.SortStableFunc(set.fields, func(a, b geo.Field) int { return order[a.Name] - order[b.Name] })
		text, err := toTheBit(knownFields(set.fields, set.kept))
		if err != nil {
			return nil, err
		}
		files = append(files, File{name, text})
	}
	if !whole {
		return files, nil
	}
	return withTreatments(files, q.Season)
}

// A fieldSet is the fields that some visits were added with, as the last of them knows them.
type fieldSet struct {
	visits []int64
	fields []geo.Field
	at     map[string]int // of each among them, by its name
	kept   map[string]geo.Properties
}

// has reports whether a visit was added with the same fields.
func (s fieldSet) has(v season.Visit) bool {
	return len(s.fields) == len(v.Fields) && !slices.ContainsFunc(v.Fields, func(f geo.Field) bool { _, is := s.at[f.Name]; return !is })
}

// withSet puts a visit to those that were added with the same fields.
func withSet(sets []fieldSet, v season.Visit) []fieldSet {
	i := slices.IndexFunc(sets, func(s fieldSet) bool { return s.has(v) })
	if i < 0 {
		i, sets = len(sets), append(sets, fieldSet{at: map[string]int{}, kept: map[string]geo.Properties{}})
	}
	set := &sets[i]
	set.visits = append(set.visits, v.ID)
	for _, f := range v.Fields {
		set.kept[f.Name] = lastKnown(set.kept[f.Name], v.Kept[f.Name])
		if k, is := set.at[f.Name]; is {
			set.fields[k] = season.Known(set.fields[k], f)
		} else {
			set.at[f.Name] = len(set.fields)
			set.fields = append(set.fields, f)
		}
	}
	return sets
}

// mostRanges bounds the name of a file of fields.
const mostRanges = 8

// ranges are numbers of visits in the name of a file: 1-3,7.
func ranges(numbers []int64) string {
	numbers = slices.Clone(numbers)
	slices.Sort(numbers)
	var all []string
	for i := 0; i < len(numbers); {
		k := i
		for k+1 < len(numbers) && numbers[k+1] <= numbers[k]+1 {
			k++
		}
		text := fmt.Sprint(numbers[i])
		if numbers[k] != numbers[i] {
			text += fmt.Sprintf("-%d", numbers[k])
		}
		if all, i = append(all, text), k+1; len(all) == mostRanges && i < len(numbers) {
			all = append(all, "and-more")
			break
		}
	}
	return strings.Join(all, ",")
}

// withTreatments adds the file of a season's treatments, as --treated reads it; none where there
// are none.
func withTreatments(files []File, s SeasonReader) ([]File, error) {
	records, err := s.Records()
	if err != nil || len(records) == 0 {
		return files, err
	}
	var features []geo.Feature
	for _, r := range records {
		features = append(features, geo.Feature{Geometry: r.Ground, Properties: geo.Properties{
			{Name: "date", Value: r.Date}, {Name: "note", Value: r.Note}, {Name: "reentry_hours", Value: r.ReentryHours},
		}})
	}
	text, err := toTheBit(features)
	return append(files, File{treatmentsFile, text}), err
}

// toTheBit are features as GeoJSON (RFC 7946) with each corner as it was stored: a boundary that
// was rounded, or turned round, would be another one to the season that it came from.
func toTheBit(features []geo.Feature) ([]byte, error) {
	var b bytes.Buffer
	b.WriteString(`{"type":"FeatureCollection","features":[`)
	for i, f := range features {
		b.WriteString([]string{"\n", ",\n"}[min(i, 1)] + `{"type":"Feature","properties":{`)
		for k, p := range f.Properties {
			member, err := json.Marshal(map[string]any{p.Name: p.Value})
			if err != nil {
				return nil, err
			}
			b.WriteString([]string{"", ","}[min(k, 1)])
			b.Write(member[1 : len(member)-1])
		}
		coordinates, err := json.Marshal(f.Geometry)
		if err != nil {
			return nil, err
		}
		fmt.Fprintf(&b, `},"geometry":{"type":%q,"coordinates":%s}}`, f.Geometry.GeoJSONType(), coordinates)
	}
	b.WriteString("\n]}\n")
	return b.Bytes(), nil
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
			return o.Name != fieldsFile && o.Name != treatmentsFile && bytes.Equal(o.Content, f.Content) && strings.HasSuffix(o.Name, plainBase(f.Name))
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
