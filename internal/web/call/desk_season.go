//go:build !small

package call

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/output/report"
)

// changeOut is the folder that a command shown writes a comparison into.
const changeOut = "change"

// seasonFacts are a season as it was kept.
type seasonFacts struct {
	Name    string            `json:"name"`
	Visits  []visitFacts      `json:"visits"`
	Treated []treatedFacts    `json:"treated"`
	Fields  []seasonFieldFact `json:"fields"` // worst first
	Notes   []string          `json:"notes"`  // such as of what was left out
	Command string            `json:"command"`
}

type visitFacts struct {
	ID     int64  `json:"id"`
	Date   string `json:"date"`
	Stops  int    `json:"stops"`  // the extra ones too
	Author string `json:"author"` // "" where nobody said
}

type treatedFacts struct {
	Date string `json:"date"`
	Note string `json:"note"`
}

type seasonFieldFact struct {
	fieldFacts
	Cells []cellFacts `json:"cells"` // by visits
	Zones []any       `json:"zones"` // of the last visit, thinned for a small map
}

// cellFacts are a visit to a field.
type cellFacts struct {
	Visit int64              `json:"visit"`
	Stops int                `json:"stops"`
	Areas map[string]float64 `json:"areas_ha"`
}

// opened opens the season that came along, or that of the folder. Its file comes too
// where its bytes are wanted.
func (d Desk) opened(r request) (file SeasonFile, name string, err error) {
	brought, err := r.atMostOne(Season)
	switch {
	case err != nil:
		return nil, "", err
	case d.Seasons == nil:
		return nil, "", errNoFolder
	case brought != nil:
		file, err = d.Seasons.Bring(brought.Content)
		return file, brought.Name, err
	case d.Folder == nil:
		return nil, "", errNoFolder
	}
	path, there, err := d.Folder.Season()
	if err != nil {
		return nil, "", err
	}
	if !there {
		return nil, "", errors.New("the folder has no season yet")
	}
	file, err = d.Seasons.Open(path)
	return file, seasonOf(path), err
}

// season shows the season at once, as it was kept.
func (d Desk) season(_ context.Context, r request) (any, []engine.File, error) {
	file, name, err := d.opened(r)
	if err != nil {
		return nil, nil, err
	}
	defer file.Close()
	looker, ok := file.(engine.SeasonLooker)
	if !ok {
		return nil, nil, errors.New("this season shows nothing")
	}
	list, err := engine.ListSeason(file)
	if err != nil {
		return nil, nil, err
	}
	facts := seasonFacts{Name: name, Visits: []visitFacts{}, Treated: []treatedFacts{}, Fields: []seasonFieldFact{}, Command: "geocoris season list " + quoted(name)}
	for _, v := range list.Visits {
		facts.Visits = append(facts.Visits, visitFacts{v.ID, v.Date, v.Stops, v.Author})
	}
	for _, t := range list.Treatments {
		facts.Treated = append(facts.Treated, treatedFacts{t.Date, t.Note})
	}
	fields, err := engine.OverviewOfSeason(looker)
	if err != nil {
		return nil, nil, err
	}
	for _, f := range fields {
		facts.Fields = append(facts.Fields, seasonFieldOf(f))
	}
	facts.Notes = some(engine.SeasonNotes(file))
	return facts, nil, nil
}

func seasonFieldOf(f engine.SeasonField) seasonFieldFact {
	b := f.Boundary.Bound()
	one := seasonFieldFact{
		fieldFacts: fieldFacts{Name: f.Name, Boundary: geometry{"MultiPolygon", thinned(f.Boundary)}, Bounds: [4]float64{b.Min[0], b.Min[1], b.Max[0], b.Max[1]}},
		Cells:      []cellFacts{}, Zones: []any{},
	}
	for _, v := range f.Visits {
		one.Cells = append(one.Cells, cellFacts{v.ID, v.Stops, v.Areas})
	}
	if last := f.Last(); last != nil {
		for _, a := range last.Areas {
			one.Area += a
		}
		for _, z := range last.Zones {
			one.Zones = append(one.Zones, map[string]any{"type": "Feature", "properties": map[string]any{"zone": z.Zone}, "geometry": geometry{"MultiPolygon", thinned(z.Ground)}})
		}
	}
	return one
}

// fewPoints are those of a ring in a map as small as a thumbnail.
const fewPoints = 48

// thinned are polygons with few points, to be looked at from far.
func thinned[P ~[]R, R ~[]T, T ~[2]float64, M ~[]P](ground M) (out [][][][2]float64) {
	out = [][][][2]float64{}
	for _, polygon := range ground {
		rings := [][][2]float64{}
		for _, ring := range polygon {
			if len(ring) == 0 {
				continue
			}
			step := (len(ring) + fewPoints - 1) / fewPoints
			few := [][2]float64{}
			for i := 0; i < len(ring); i += step {
				few = append(few, [2]float64{rounded(ring[i][0], 1e5), rounded(ring[i][1], 1e5)})
			}
			rings = append(rings, append(few, few[0]))
		}
		out = append(out, rings)
	}
	return out
}

// weeksFacts are what changed from visit to visit.
type weeksFacts struct {
	Fields  []changedFacts `json:"fields"`
	Notes   []string       `json:"notes"`
	Command string         `json:"command"`
}

// changedFacts are what is asked of a field at a further visit, with the answers.
type changedFacts struct {
	Field   string        `json:"name"`
	Answers []askedAnswer `json:"answers"`
}

type askedAnswer struct {
	Asked string   `json:"asked"`
	Said  []string `json:"said"`
}

// weeks compares the visits of the season: of one field where one is named.
func (d Desk) weeks(ctx context.Context, r request) (any, []engine.File, error) {
	var o struct {
		Field   string          `json:"field"`
		Without []int64         `json:"without"` // visits that are left out
		Units   json.RawMessage `json:"units"`
	}
	if err := r.settings(&o); err != nil {
		return nil, nil, err
	}
	q, name, closeIt, err := d.compareRequest(r, o.Without, o.Units)
	if err != nil {
		return nil, nil, err
	}
	defer func() { _ = closeIt() }()
	if o.Field != "" {
		if q.Weeks[0].Season, err = engine.Narrowed(q.Weeks[0].Season, o.Field); err != nil {
			return nil, nil, err
		}
	}
	made, err := engine.Compare(ctx, q)
	if err != nil {
		return nil, nil, withRows(err)
	}
	facts := weeksFacts{Fields: []changedFacts{}, Notes: some(append(made.Notes, report.CompareNotes(made.Result)...)), Command: weeksCommand(name, q)}
	for _, f := range made.Result.Fields {
		if o.Field != "" && f.Name != o.Field {
			continue
		}
		one := changedFacts{Field: f.Name, Answers: []askedAnswer{}}
		for _, a := range report.Answers(made.Result, f, q.Settings.Said(), made.Now...) {
			one.Answers = append(one.Answers, askedAnswer{a.Asked, a.Said})
		}
		facts.Fields = append(facts.Fields, one)
	}
	if o.Field != "" {
		return facts, nil, nil // the files are of all fields, or none
	}
	return facts, made.Files, nil
}

// compareRequest asks for the season to be compared but for some visits, by the settings of
// the last of the others.
func (d Desk) compareRequest(r request, without []int64, units json.RawMessage) (q engine.CompareRequest, name string, closeIt func() error, err error) {
	file, name, err := d.opened(r)
	if err != nil {
		return q, "", nil, err
	}
	defer func() {
		if err != nil {
			_ = file.Close()
		}
	}()
	from, err := d.seasonBytes(r, name, file)
	if err != nil {
		return q, "", nil, err
	}
	q = engine.CompareRequest{Weeks: []engine.Week{{Season: file, File: from}}, Compare: engine.CompareDefaults(), Version: d.Version}
	q.Compare.Without = without
	if q.Weeks, err = engine.WithoutVisits(q.Weeks, without); err != nil {
		return q, "", nil, err
	}
	if q.Setup, _, err = engine.Adopted(q.Weeks); err != nil {
		return q, "", nil, err
	}
	q.Adopted = q.Settings
	for _, n := range q.Settings.NamedFiles() {
		if *n.Path != "" && !q.Kept[n.Setting] {
			return q, "", nil, fmt.Errorf("the season was added with --%s %s, and the program of then did not keep the file", n.Setting, *n.Path)
		}
	}
	q.Settings.Out = changeOut
	if units != nil {
		if err = json.Unmarshal(units, &q.Settings.Units); err != nil {
			return q, "", nil, err
		}
	}
	return q, name, file.Close, nil
}

// seasonOf is the season as the commands take it that the page shows.
func seasonOf(path string) string {
	if engine.InDatabase(path) {
		return engine.SeasonTyped(path)
	}
	return baseOf(path)
}

// seasonBytes are the bytes of a season for the record: of a database the digests of what
// it holds.
func (d Desk) seasonBytes(r request, name string, file SeasonFile) (engine.Source, error) {
	if brought, err := r.atMostOne(Season); err != nil || brought != nil {
		return engine.Source{Name: name, Content: brought.Content}, err
	}
	if held, ok := file.(interface{ Digests() ([]byte, error) }); ok && engine.InDatabase(name) {
		digests, err := held.Digests()
		return engine.Source{Name: engine.SeasonName(name), Content: digests}, err
	}
	return d.Folder.Load(name)
}

// weeksCommand is the command that compares a season, whose settings it takes itself.
func weeksCommand(name string, q engine.CompareRequest) string {
	line := "geocoris compare " + quoted(name) + " --out " + changeOut
	for i, n := range q.Compare.Without {
		line += []string{" --without ", ","}[min(i, 1)] + fmt.Sprint(n)
	}
	if units := valuesOf(q.Settings)["units"]; units != "" && units != nil {
		line += fmt.Sprint(" --units ", units)
	}
	return line
}

type keptFacts struct {
	Visits  []int64  `json:"visits"`
	Notes   []string `json:"notes"`
	Command string   `json:"command"`
}

// keep adds the morning to the season of the folder.
func (d Desk) keep(ctx context.Context, r request) (any, []engine.File, error) {
	o := engine.Defaults()
	if err := r.settings(&o); err != nil {
		return nil, nil, err
	}
	if d.Folder == nil || d.Seasons == nil {
		return nil, nil, errNoFolder
	}
	asked, err := r.mapRequest(o)
	if err != nil {
		return nil, nil, err
	}
	asked.Settings.Field = asked.Boundary.Name
	path, _, err := d.Folder.Season()
	if err != nil {
		return nil, nil, err
	}
	stored, err := d.addTo(ctx, engine.SeasonAddRequest{
		Season: path, Visit: &engine.VisitRequest{Setup: asked.Setup, Samples: asked.Samples, Boundary: asked.Boundary},
	})
	if err != nil {
		return nil, nil, withRows(err)
	}
	facts := keptFacts{Visits: []int64{}, Notes: some(stored.Notes)}
	for _, v := range stored.Visits {
		facts.Visits = append(facts.Visits, v.ID)
	}
	facts.Command = strings.TrimSuffix(commandOf("season add", append([]string{seasonOf(path)}, namesOf(asked.Samples)...), asked.Settings), " ")
	return facts, nil, nil
}

// shown is a visit of the season worked out anew for one field.
func (d Desk) shown(ctx context.Context, r request) (any, []engine.File, error) {
	var o struct {
		Field string          `json:"field"`
		Visit int64           `json:"visit"`
		Units json.RawMessage `json:"units"`
	}
	if err := r.settings(&o); err != nil {
		return nil, nil, err
	}
	file, name, err := d.opened(r)
	if err != nil {
		return nil, nil, err
	}
	defer file.Close()
	near, err := engine.Narrowed(file, o.Field)
	if err != nil {
		return nil, nil, err
	}
	names, err := engine.NamesOf(near, o.Field)
	if err != nil {
		return nil, nil, err
	}
	visit, err := engine.ChosenVisit(near, o.Visit)
	if err != nil {
		return nil, nil, err
	}
	w, err := engine.Kept(visit)
	if err != nil {
		return nil, nil, err
	}
	if o.Units != nil {
		if err := json.Unmarshal(o.Units, &w.Settings.Units); err != nil {
			return nil, nil, err
		}
	}
	made, err := engine.ShowVisit(ctx, w, visit)
	if err != nil {
		return nil, nil, withRows(err)
	}
	for i, v := range made.Verdicts {
		if !slices.Contains(names, v.Field) {
			continue
		}
		answer, ok := answerOf(made, i, w.Settings)
		if !ok {
			break
		}
		return map[string]any{"answer": answer, "command": fmt.Sprintf("geocoris season show %s %d", quoted(name), o.Visit)}, nil, nil
	}
	return nil, nil, fmt.Errorf("nobody was in the field %q at visit %d", o.Field, o.Visit)
}
