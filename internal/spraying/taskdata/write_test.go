package taskdata_test

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spraying/taskdata"
	"github.com/geocoris/geocoris/internal/testkit"
)

func ring(x, y, d float64) orb.Ring {
	return orb.Ring{{x, y}, {x + d, y}, {x + d, y + d}, {x, y + d}, {x, y}}
}

// prescription has a field with a pond, and one more; zones with a hole and in
// parts. Everything is invented.
func prescription(version int) taskdata.Prescription {
	return taskdata.Prescription{Version: version, Software: "1.2", Fields: []taskdata.Field{
		{Name: "North field with a name that is much too long for a terminal, ł", Task: "spray 2026-07-15",
			Boundary: orb.MultiPolygon{{ring(10, 50, 0.01), ring(10.008, 50.008, 0.001)}}, Area: 796000.4,
			Treat: orb.MultiPolygon{{ring(10.001, 50.001, 0.003), ring(10.002, 50.002, 0.001)}, {ring(10.006, 50.001, 0.001)}}, Rate: 140},
		{Name: "B", Boundary: orb.MultiPolygon{{ring(10.02, 50, 0.01)}}, Area: 796000,
			Treat: orb.MultiPolygon{{ring(10.021, 50.001, 0.003)}}, Rate: 140},
	}}
}

func withGrid(p taskdata.Prescription) taskdata.Prescription {
	codes := make([]byte, 20)
	codes[6], codes[7] = taskdata.Treat, taskdata.Treat
	for i := range p.Fields {
		p.Fields[i].Grid = &taskdata.Grid{South: 50, West: 10 + 0.02*float64(i), CellNorth: 0.002, CellEast: 0.0025, Columns: 4, Rows: 5, Codes: codes}
	}
	return p
}

func withRates(p taskdata.Prescription) taskdata.Prescription {
	p = withGrid(p)
	p.GridType, p.Products = 2, []string{"product A", "product B"}
	p.Fields[0].Customer, p.Fields[0].Farm = "Customer", "Farm"
	return p
}

func withGuidance(p taskdata.Prescription) taskdata.Prescription {
	p.Fields[0].AB = &taskdata.ABLine{Name: "A-B 30.0 deg", A: orb.Point{10.0012345, 50.0012345}, B: orb.Point{10.005, 50.006}}
	return p
}

// save writes the folder and returns its path.
func save(t *testing.T, p taskdata.Prescription) string {
	t.Helper()
	files, err := p.Files()
	require.NoError(t, err)
	dir := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(dir, taskdata.Folder), 0o755))
	for _, f := range files {
		require.NoError(t, os.WriteFile(filepath.Join(dir, filepath.FromSlash(f.Path)), f.Content, 0o644))
	}
	return filepath.Join(dir, taskdata.Folder)
}

func TestTaskDataPassesOutsideCheckers(t *testing.T) {
	for name, p := range map[string]taskdata.Prescription{
		"v4": prescription(4), "v3": prescription(3), "v4 by default": prescription(0),
		"v4 grid": withGrid(prescription(4)), "v3 grid": withGrid(prescription(3)), "v4 rates": withRates(prescription(4)), "v3 rates": withRates(prescription(3)),
		"v4 with guidance": withGuidance(prescription(4)), "v3 has none": withGuidance(prescription(3)),
	} {
		t.Run(name, func(t *testing.T) {
			folder := save(t, p)
			schema := testkit.Shared(t, "schemas", "isoxml", "taskdata-v4-prescription.xsd")
			switch {
			case p.Version == 3:
				schema = testkit.Shared(t, "schemas", "isoxml", "taskdata-v3-prescription.xsd")
			case p.Fields[0].AB != nil: // which the other grammar does not know
				schema = testkit.Testdata(t, "reference", "isoxml", "taskdata-v4-guidance.xsd")
			}
			testkit.Program(t, nil, "xmllint", "--nonet", "--noout", "--schema", schema, filepath.Join(folder, "TASKDATA.XML"))
			testkit.Program(t, nil, "python3", testkit.Shared(t, "validators", "taskdata.py"), folder)
		})
	}
}

// read is what a test looks at, written apart from the writer's own types.
type read struct {
	Fields []struct {
		C     string `xml:"C,attr"`
		D     int    `xml:"D,attr"`
		Areas []struct {
			C int `xml:"C,attr"`
		} `xml:"PLN"`
	} `xml:"PFD"`
	Values []struct {
		C float64 `xml:"C,attr"`
		E string  `xml:"E,attr"`
	} `xml:"VPN"`
	Tasks []struct {
		G     string `xml:"G,attr"`
		H     string `xml:"H,attr"`
		I     string `xml:"I,attr"`
		J     string `xml:"J,attr"`
		Zones []struct {
			A      string `xml:"A,attr"`
			Values []struct {
				A string `xml:"A,attr"`
				B int    `xml:"B,attr"`
			} `xml:"PDV"`
			Areas []struct {
				C     int `xml:"C,attr"`
				Lines []struct {
					A int `xml:"A,attr"`
				} `xml:"LSG"`
			} `xml:"PLN"`
		} `xml:"TZN"`
	} `xml:"TSK"`
}

func readBack(t *testing.T, p taskdata.Prescription) (r read) {
	t.Helper()
	files, err := p.Files()
	require.NoError(t, err)
	require.NoError(t, xml.Unmarshal(files[0].Content, &r))
	return r
}

func TestRatesAndSpecialCodes(t *testing.T) {
	r := readBack(t, prescription(4))
	require.Len(t, r.Tasks, 2)
	for _, task := range r.Tasks {
		assert.Equal(t, []string{"1", "0", "0", "0"}, []string{task.G, task.H, task.I, task.J}, "planned; elsewhere, lost, outside: no spray")
		require.Len(t, task.Zones, 2)
		assert.Equal(t, 0, task.Zones[0].Values[0].B)
		// 1 L/ha = 100 mm³/m², a step is 0.01 mm³/m² (ISO 11783-11, entity 1)
		assert.Equal(t, 1400000, task.Zones[1].Values[0].B)
		assert.Equal(t, "0001", task.Zones[1].Values[0].A)
	}
	assert.Equal(t, 796000, r.Fields[0].D)
	assert.Equal(t, 32, len([]rune(r.Fields[0].C)))

	p := prescription(4)
	p.GallonsPerAcre = true
	for i := range p.Fields {
		p.Fields[i].Rate = 15 * 3.785411784 / 0.40468564224
	}
	r = readBack(t, p)
	assert.Equal(t, "gal/ac", r.Values[0].E)
	assert.InDelta(t, 15, float64(r.Tasks[0].Zones[1].Values[0].B)*r.Values[0].C, 1e-5)
}

func TestVersionsGroupRingsTheirOwnWay(t *testing.T) {
	four := readBack(t, prescription(4)).Tasks[0].Zones[1].Areas
	require.Len(t, four, 2)
	assert.Len(t, four[0].Lines, 2)
	three := readBack(t, prescription(3)).Tasks[0].Zones[1].Areas
	require.Len(t, three, 1)
	assert.Equal(t, []int{1, 2, 1}, []int{three[0].Lines[0].A, three[0].Lines[1].A, three[0].Lines[2].A})
	assert.Equal(t, three[0].C, four[0].C+four[1].C)
}

// A field of one polygon has one area, whichever element tells it.
func TestFieldAndPolygonTellTheSameArea(t *testing.T) {
	p := prescription(4)
	frame, err := geo.FrameOf(p.Fields[1].Boundary)
	require.NoError(t, err)
	for i, d := range []float64{0.01, 0.01003, 0.00997, 0.005} {
		p.Fields[1].Boundary = orb.MultiPolygon{{ring(10.02, 50, d)}}
		p.Fields[1].Area = geo.Area(frame.ForwardPolygons(p.Fields[1].Boundary))
		f := readBack(t, p).Fields[1]
		require.Len(t, f.Areas, 1)
		assert.Equal(t, f.Areas[0].C, f.D, "square %d", i)
	}
	p.Fields[1].Area = 795999.6
	assert.Equal(t, 796000, readBack(t, p).Fields[1].D)
}

func TestFilesAreTheSameOnEveryRun(t *testing.T) {
	var a, b bytes.Buffer
	require.NoError(t, withGrid(prescription(4)).WriteZip(&a))
	require.NoError(t, withGrid(prescription(4)).WriteZip(&b))
	assert.Equal(t, a.Bytes(), b.Bytes())
	// Of a day that is one: year since 1980, month and day in two bytes (APPNOTE.TXT 4.4.6).
	assert.Equal(t, []byte{1<<5 | 1, 0}, a.Bytes()[12:14])
}

func TestRefusals(t *testing.T) {
	for name, change := range map[string]func(*taskdata.Prescription){
		"version":             func(p *taskdata.Prescription) { p.Version = 2 },
		"no field":            func(p *taskdata.Prescription) { p.Fields = nil },
		"no rate":             func(p *taskdata.Prescription) { p.Fields[0].Rate = 0 },
		"a rate too high":     func(p *taskdata.Prescription) { p.Fields[0].Rate = 214749 },
		"nothing to treat":    func(p *taskdata.Prescription) { p.Fields[1].Treat = nil },
		"a sliver":            func(p *taskdata.Prescription) { p.Fields[1].Treat = orb.MultiPolygon{{ring(10.021, 50.001, 1e-9)}} },
		"a line of no length": func(p *taskdata.Prescription) { p.Fields[0].AB.B = p.Fields[0].AB.A },
		"an unknown code":     func(p *taskdata.Prescription) { *p = withGrid(*p); p.Fields[0].Grid.Codes[0] = 7 },
		"a short grid":        func(p *taskdata.Prescription) { *p = withGrid(*p); p.Fields[0].Grid.Rows = 6 },
	} {
		p := withGuidance(prescription(4))
		change(&p)
		_, err := p.Files()
		assert.ErrorContains(t, err, "taskdata: ", name)
	}
}

// byReader runs a script of an independent reader, the npm package isoxml, on task data.
// The package is found through GEOCORIS_ISOXML, the folder that it was installed into.
func byReader(t *testing.T, script string, p taskdata.Prescription) string {
	modules := os.Getenv("GEOCORIS_ISOXML")
	if modules == "" {
		testkit.Missing(t, "npm package isoxml (GEOCORIS_ISOXML names the folder it was installed into)")
	}
	var archive bytes.Buffer
	require.NoError(t, p.WriteZip(&archive))
	zip, path := filepath.Join(t.TempDir(), "t.zip"), filepath.Join(modules, "geocoris_read.js")
	require.NoError(t, os.WriteFile(zip, archive.Bytes(), 0o644))
	require.NoError(t, os.WriteFile(path, []byte(script), 0o644))
	return strings.TrimSpace(testkit.Program(t, nil, "node", path, zip))
}

// Grids of either type are, to an independent reader, the cells that are on, each where it
// is and with its rate.
func TestAnIndependentReaderFindsTheSameCells(t *testing.T) {
	for name, p := range map[string]taskdata.Prescription{"type 1": withGrid(prescription(4)), "type 2": withRates(prescription(4)), "version 3, type 2": withRates(prescription(3))} {
		t.Run(name, func(t *testing.T) {
			var tasks []struct {
				Name  string
				Cells []struct {
					Rate  int
					Shell orb.Ring
				}
			}
			require.NoError(t, json.Unmarshal([]byte(byReader(t, cellScript, p)), &tasks))
			require.Len(t, tasks, 2)
			for i, task := range tasks {
				assert.Equal(t, p.Designators()[i], task.Name)
				g := p.Fields[i].Grid
				n := 0
				for at, code := range g.Codes {
					if code != taskdata.Treat {
						continue
					}
					require.Less(t, n, len(task.Cells))
					assert.Equal(t, 1400000, task.Cells[n].Rate)
					west, south := g.West+g.CellEast*float64(at%g.Columns), g.South+g.CellNorth*float64(at/g.Columns)
					want := orb.Bound{Min: orb.Point{west, south}, Max: orb.Point{west + g.CellEast, south + g.CellNorth}}.ToRing()
					require.Len(t, task.Cells[n].Shell, len(want))
					for k := range want {
						assert.InDeltaSlice(t, want[k][:], task.Cells[n].Shell[k][:], 1e-9, "cell %d", at)
					}
					n++
				}
				assert.Len(t, task.Cells, n)
			}
		})
	}
}

// cellScript makes features of cells by the reader's own way for type 2, and for type 1,
// which it makes none of, by what it read of the grid and the zones.
const cellScript = `const { ISOXMLManager } = require('isoxml');
const fs = require('fs');
const m = new ISOXMLManager();
m.parseISOXMLFile(fs.readFileSync(process.argv[2]), 'application/zip').then(() => {
  if (m.getWarnings().length > 0) throw new Error(JSON.stringify(m.getWarnings()));
  console.log(JSON.stringify(m.rootElement.attributes.Task.map(t => {
    const a = t.attributes, grid = a.Grid[0], g = grid.attributes;
    const rates = Object.fromEntries(a.TreatmentZone.map(z => [z.attributes.TreatmentZoneCode, z.attributes.ProcessDataVariable[0].attributes.ProcessDataValue]));
    const cells = [];
    if (g.GridType === '2') {
      grid.toGeoJSON(['rate']).features.forEach(f => cells.push({ Rate: f.properties.rate, Shell: f.geometry.coordinates[0] }));
    } else {
      grid.binaryData.forEach((code, i) => {
        if (rates[code] === 0) return;
        const x = g.GridMinimumEastPosition + i % g.GridMaximumColumn * g.GridCellEastSize, y = g.GridMinimumNorthPosition + Math.floor(i / g.GridMaximumColumn) * g.GridCellNorthSize;
        const X = x + g.GridCellEastSize, Y = y + g.GridCellNorthSize;
        cells.push({ Rate: rates[code], Shell: [[x, y], [X, y], [X, Y], [x, Y], [x, y]] });
      });
    }
    return { Name: a.TaskDesignator, Cells: cells };
  })));
});
`

// An independent reader, the npm package isoxml, finds the same rates and areas.
func TestAnIndependentReaderFindsTheSame(t *testing.T) {
	for name, p := range map[string]taskdata.Prescription{
		"v4": prescription(4), "v3": withGuidance(prescription(3)), "grid": withGrid(prescription(4)), "rates": withRates(prescription(4)), "guidance": withGuidance(prescription(4)),
	} {
		t.Run(name, func(t *testing.T) {
			assert.Equal(t, wantOf(name), byReader(t, readerScript, p))
		})
	}
}

const readerScript = `const { ISOXMLManager } = require('isoxml');
const fs = require('fs');
const m = new ISOXMLManager();
m.parseISOXMLFile(fs.readFileSync(process.argv[2]), 'application/zip').then(() => {
  const out = m.getWarnings().map(w => 'warning ' + JSON.stringify(w));
  const root = m.rootElement.attributes;
  (root.Task || []).forEach(t => {
    const a = t.attributes;
    out.push(a.TreatmentZone.map(z => z.attributes.TreatmentZoneCode + ':' +
      z.attributes.ProcessDataVariable.map(v => v.attributes.ProcessDataDDI + '=' + v.attributes.ProcessDataValue) + ':' +
      (z.attributes.PolygonTreatmentZoneonly || []).map(p => p.attributes.PolygonArea)).join(' ') +
      (a.Grid ? ' cells ' + Array.from(a.Grid[0].binaryData).join('') : ''));
  });
  root.Partfield.forEach(f => out.push('field ' + f.attributes.PartfieldArea +
    (f.attributes.GuidanceGroup || []).map(g => g.attributes.GuidancePattern.map(p => [' line', p.attributes.GuidancePatternDesignator,
      p.attributes.GuidancePatternType, p.attributes.GuidancePatternPropagationDirection, p.attributes.GuidancePatternExtension]
      .concat(p.attributes.LineString.map(l => [l.attributes.LineStringType].concat(l.attributes.Point.map(q =>
        q.attributes.PointType + ':' + q.attributes.PointNorth + ',' + q.attributes.PointEast)).join(' '))).join(' ')))));
  console.log(out.join('\n'));
});
`

// wantOf is what the reader must say: areas by d²·M·N·cos φ, with M and N the
// radii of curvature of WGS 84 at the middle of each square of d radians.
func wantOf(name string) string {
	const fields = "\nfield 796000\nfield 796000"
	const v4 = "0:0001=0: 1:0001=1400000:63794,7974\n0:0001=0: 1:0001=1400000:71768"
	switch name {
	case "v4":
		return v4 + fields
	case "guidance": // passes to both sides, going on both ways; line type 5, points 6 and 7
		return v4 + "\nfield 796000 line A-B 30.0 deg 1 1 1 5 6:50.0012345,10.0012345 7:50.006,10.005\nfield 796000"
	case "v3":
		return "0:0001=0: 1:0001=1400000:71768\n0:0001=0: 1:0001=1400000:71768" + fields
	}
	if name == "rates" { // each cell's as four bytes: 1400000 is 192, 92, 21, 0
		rates := strings.Repeat("0", 4*6) + strings.Repeat("19292210", 2) + strings.Repeat("0", 4*12)
		cells := "0:0001=0: 1:0001=0: cells " + rates
		return cells + "\n" + cells + fields
	}
	const cells = "0:0001=0: 1:0001=1400000: cells 00000011000000000000"
	return cells + "\n" + cells + fields
}
