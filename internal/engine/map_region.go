//go:build !small

package engine

import (
	"io"
	"iter"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/output/report"
)

// besides are the files of a map that are made when asked for.
func (m *morning) besides(r *assess.Result, made MapRecord, g ground) ([]rendering, error) {
	pictures, err := m.pictures(r, made, g.Notes)
	return append(pictures, m.inOne(r, g)...), err
}

// inOne are the files of all fields in one, for other programs.
func (m *morning) inOne(r *assess.Result, g ground) (files []rendering) {
	ground := m.withAnswers(report.EachGround(r), g)
	if m.Settings.wants(sequenceFile) {
		files = append(files, rendering{sequenceFile, func(w io.Writer) error { return geofile.WriteFeatureSequence(w, ground) }})
	}
	if m.Settings.wants(packageFile) {
		files = append(files, rendering{packageFile, func(w io.Writer) error {
			return geofile.WriteGeoPackage(w, []geofile.Layer{
				layer("zones", ground, r), layer("stops", inTurn(report.EachStop(r), report.EachUnread(r)), r),
			})
		}})
	}
	return files
}

// layer is a table of features, whose properties get names that a column may have.
func layer(name string, features iter.Seq[geo.Feature], r *assess.Result) geofile.Layer {
	l := geofile.Layer{Name: name, Features: slices.Collect(features)}
	if days := r.Survey.Dates; len(days) > 0 {
		l.Date = days[len(days)-1]
	}
	columns := newColumns()
	for i, f := range l.Features {
		l.Features[i].Properties = columns.of(f.Properties)
	}
	return l
}

// columns give properties names that a table takes: small letters, digits and
// underscores, none of them twice.
type columns struct {
	by    map[string]string
	taken map[string]bool
}

func newColumns() *columns {
	return &columns{by: map[string]string{}, taken: map[string]bool{"fid": true, "geom": true}}
}

func (c *columns) of(p geo.Properties) geo.Properties {
	out := slices.Clone(p)
	for i := range out {
		out[i].Name = c.name(out[i].Name)
	}
	return out
}

var notOfColumns = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`[^a-z0-9_]+`) })

// mostOfColumn leaves room for a number within the 29 characters of a name in a GeoPackage
// of ours ([geofile.WriteGeoPackage]).
const mostOfColumn = 24

func (c *columns) name(property string) string {
	if known, ok := c.by[property]; ok {
		return known
	}
	stem := strings.Trim(notOfColumns().ReplaceAllString(strings.ToLower(property), "_"), "_")
	if stem == "" || stem[0] < 'a' || stem[0] > 'z' {
		stem = "p_" + stem
	}
	stem = stem[:min(len(stem), mostOfColumn)]
	name := stem
	for n := 2; c.taken[name]; n++ {
		name = stem + "_" + strconv.Itoa(n)
	}
	c.by[property], c.taken[name] = name, true
	return name
}
