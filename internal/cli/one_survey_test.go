package cli_test

import (
	"archive/zip"
	"bytes"
	"database/sql"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
)

// A walked stop is one row of an invented evening, by clocks five hours behind UTC: it
// begins before midnight UTC and ends after it.
type walked struct {
	name          string
	lon, lat      float64
	count, leaves int
	at            time.Time // by the clocks there
}

func eveningWalk() (stops []walked) {
	counts := []int{12, 0, 7, 1150, 33, 410, 1, 95, 250, 18, 0, 44}
	start := time.Date(2026, 7, 14, 18, 20, 0, 0, time.FixedZone("", -5*3600))
	for i, count := range counts {
		stops = append(stops, walked{fmt.Sprintf("S%d", i+1), -101.603 + 0.002*float64(i%4), 35.898 + 0.0017*float64(i/4), count, 10, start.Add(time.Duration(i) * 11 * time.Minute)})
	}
	return stops
}

func degrees(v float64) string { return fmt.Sprintf("%.6f", v) }

func zulu(s walked) string { return s.at.UTC().Format("2006-01-02T15:04:05Z") }

// surveyFiles is the walk as each program would write it.
func surveyFiles(t *testing.T) map[string][]byte {
	walk := eveningWalk()
	features := evening(walk)
	return map[string][]byte{
		"us.csv": usCSV(walk), "german.csv": germanCSV(walk), "walk.xlsx": spreadsheet(t, walk),
		"walk.geojson": []byte(features), "walk.gpx": waypoints(walk), "walk.kml": placed(walk),
		"walk.gpkg": geoPackage(t, features), "walk.zip": shapefile(t, walk),
	}
}

// usCSV has a mark, quotes, the month first and hours of half a day.
func usCSV(walk []walked) []byte {
	var b bytes.Buffer
	b.WriteString("\ufeff\"Stop\",\"Latitude\",\"Longitude\",\"Aphids\",\"Leaves\",\"Date\",\"Time\"\r\n")
	for _, s := range walk {
		count := fmt.Sprint(s.count)
		if s.count > 999 {
			count = fmt.Sprintf("%d,%03d", s.count/1000, s.count%1000)
		}
		fmt.Fprintf(&b, "%q,%q,%q,%q,\"%d\",%q,%q\r\n", s.name, degrees(s.lat), degrees(s.lon), count, s.leaves, s.at.Format("1/2/2006"), s.at.Format("3:04 PM"))
	}
	return b.Bytes()
}

// germanCSV is in Windows-1252, parted by semicolons, with commas before decimals.
func germanCSV(walk []walked) []byte {
	comma := strings.NewReplacer(".", ",")
	text := "stop;longitude;latitude;count;leaves;date;time;notes\r\n"
	for _, s := range walk {
		text += fmt.Sprintf("%s;%s;%s;%d;%d;%s;%s;%s\r\n", s.name, comma.Replace(degrees(s.lon)), comma.Replace(degrees(s.lat)), s.count, s.leaves,
			s.at.Format("02.01.2006"), s.at.Format("15:04"), "schwül")
	}
	return []byte(strings.ReplaceAll(text, "ü", "\xfc"))
}

// zipped is an archive of files by turns of name and content.
func zipped(t *testing.T, files ...string) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for i := 0; i < len(files); i += 2 {
		w, err := z.Create(files[i])
		require.NoError(t, err)
		_, err = w.Write([]byte(files[i+1]))
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	return b.Bytes()
}

// spreadsheet is the least workbook of ISO/IEC 29500-1, days and times as serials.
func spreadsheet(t *testing.T, walk []walked) []byte {
	const head = `<?xml version="1.0" encoding="UTF-8"?>`
	text := func(v string) string { return `<c t="inlineStr"><is><t>` + v + `</t></is></c>` }
	sheet := head + `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData><row>`
	for _, name := range []string{"Stop", "Longitude", "Latitude", "Count", "Leaves", "Date", "Time"} {
		sheet += text(name)
	}
	sheet += "</row>"
	for _, s := range walk {
		sheet += "<row>" + text(s.name)
		midnight := time.Date(s.at.Year(), s.at.Month(), s.at.Day(), 0, 0, 0, 0, s.at.Location())
		days := math.Round(midnight.Sub(time.Date(1899, 12, 30, 0, 0, 0, 0, s.at.Location())).Hours() / 24)
		for _, v := range []any{degrees(s.lon), degrees(s.lat), s.count, s.leaves, days, s.at.Sub(midnight).Hours() / 24} {
			sheet += fmt.Sprintf(`<c s="0"><v>%v</v></c>`, v)
		}
		sheet += "</row>"
	}
	sheet += "</sheetData></worksheet>"
	const relations = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	return zipped(t,
		"[Content_Types].xml", head+`<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/></Types>`,
		"_rels/.rels", head+`<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="`+relations+`/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
		"xl/workbook.xml", head+`<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="`+relations+`"><sheets><sheet name="Counts" sheetId="1" r:id="r1"/></sheets></workbook>`,
		"xl/_rels/workbook.xml.rels", head+`<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="`+relations+`/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`,
		"xl/worksheets/sheet1.xml", sheet)
}

func evening(walk []walked) string {
	var features []string
	for _, s := range walk {
		features = append(features, fmt.Sprintf(`{"type":"Feature","properties":{"stop":%q,"count":%d,"leaves":%d,"time":%q},"geometry":{"type":"Point","coordinates":[%s,%s]}}`,
			s.name, s.count, s.leaves, zulu(s), degrees(s.lon), degrees(s.lat)))
	}
	return "{\"type\":\"FeatureCollection\",\"features\":[\n" + strings.Join(features, ",\n") + "]}"
}

// waypoints say the counts in ways that differ from stop to stop.
func waypoints(walk []walked) []byte {
	var b bytes.Buffer
	b.WriteString("<?xml version=\"1.0\"?>\n<gpx xmlns=\"http://www.topografix.com/GPX/1/1\" version=\"1.1\">\n")
	for i, s := range walk {
		words := fmt.Sprintf([]string{"%d on %d", "%d/%d", "bugs %d, leaves %d, boot", "%d aphids %d lvs"}[i%4], s.count, s.leaves)
		if s.count == 0 {
			words = fmt.Sprintf("none on %d leaves", s.leaves)
		}
		fmt.Fprintf(&b, "<wpt lat=%q lon=%q><time>%s</time><name>%s</name><cmt>%s</cmt></wpt>\n", degrees(s.lat), degrees(s.lon), zulu(s), s.name, words)
	}
	b.WriteString("</gpx>\n")
	return b.Bytes()
}

func placed(walk []walked) []byte {
	var b bytes.Buffer
	b.WriteString("<kml xmlns=\"http://www.opengis.net/kml/2.2\"><Document>\n")
	for i, s := range walk {
		words := fmt.Sprintf([]string{"<![CDATA[<b>%d</b> aphids<br>%d&nbsp;leaves]]>", "%d / %d leaves"}[i%2], s.count, s.leaves)
		fmt.Fprintf(&b, "<Placemark><name>%s</name><description>%s</description><TimeStamp><when>%s</when></TimeStamp><Point><coordinates>%s,%s</coordinates></Point></Placemark>\n",
			s.name, words, zulu(s), degrees(s.lon), degrees(s.lat))
	}
	b.WriteString("</Document></kml>\n")
	return b.Bytes()
}

// geoPackage has the time in a column of DATETIME, as the standard has it.
func geoPackage(t *testing.T, features string) []byte {
	c, err := geofile.Decode("walk.geojson", strings.NewReader(features), geofile.Limits{})
	require.NoError(t, err)
	return retyped(t, geofile.Layer{Name: "walk", Features: c.Features}, "time", "DATETIME")
}

// retyped is a GeoPackage whose column of text is of another type.
func retyped(t *testing.T, layer geofile.Layer, column, kind string) []byte {
	var b bytes.Buffer
	require.NoError(t, geofile.WriteGeoPackage(&b, []geofile.Layer{layer}))
	path := t.TempDir() + "/retyped.gpkg"
	require.NoError(t, os.WriteFile(path, b.Bytes(), 0o600))
	db, err := sql.Open("sqlite", path)
	require.NoError(t, err)
	for _, statement := range []string{
		`ALTER TABLE %[1]s RENAME COLUMN %[2]s TO text_of_it`, `ALTER TABLE %[1]s ADD COLUMN %[2]s %[3]s`,
		`UPDATE %[1]s SET %[2]s = text_of_it`, `ALTER TABLE %[1]s DROP COLUMN text_of_it`,
	} {
		_, err := db.Exec(fmt.Sprintf(statement+"/*%[1]s%[2]s%[3]s*/", layer.Name, column, kind))
		require.NoError(t, err)
	}
	require.NoError(t, db.Close())
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	return data
}

// shapefile has points (ESRI Shapefile Technical Description, July 1998) and a table
// of dBASE III with the day as a date and the time of day as text.
func shapefile(t *testing.T, walk []walked) []byte {
	shp := make([]byte, 100)
	binary.BigEndian.PutUint32(shp, 9994)
	binary.LittleEndian.PutUint32(shp[28:], 1000)
	binary.LittleEndian.PutUint32(shp[32:], 1)
	columns := []struct {
		name string
		kind byte
		size int
	}{{"stop", 'C', 6}, {"count", 'N', 6}, {"leaves", 'N', 4}, {"date", 'D', 8}, {"time", 'C', 5}}
	dbf := make([]byte, 32)
	dbf[0] = 3
	width := 1
	for _, c := range columns {
		field := make([]byte, 32)
		copy(field, c.name)
		field[11], field[16] = c.kind, byte(c.size)
		dbf = append(dbf, field...)
		width += c.size
	}
	dbf = append(dbf, 0x0D)
	binary.LittleEndian.PutUint32(dbf[4:], uint32(len(walk)))
	binary.LittleEndian.PutUint16(dbf[8:], uint16(len(dbf)))
	binary.LittleEndian.PutUint16(dbf[10:], uint16(width))
	for i, s := range walk {
		shp = binary.BigEndian.AppendUint32(shp, uint32(i+1))
		shp = binary.BigEndian.AppendUint32(shp, 10)
		shp = binary.LittleEndian.AppendUint32(shp, 1)
		for _, text := range []string{degrees(s.lon), degrees(s.lat)} {
			var v float64
			_, err := fmt.Sscan(text, &v)
			require.NoError(t, err)
			shp = binary.LittleEndian.AppendUint64(shp, math.Float64bits(v))
		}
		dbf = append(dbf, fmt.Sprintf(" %-6s%6d%4d%s%s", s.name, s.count, s.leaves, s.at.Format("20060102"), s.at.Format("15:04"))...)
	}
	binary.BigEndian.PutUint32(shp[24:], uint32(len(shp)/2))
	const prj = `GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]`
	return zipped(t, "walk.shp", string(shp), "walk.dbf", string(dbf), "walk.prj", prj)
}

// A mappedStop is what stops.geojson tells of a stop.
type mappedStop struct {
	Stop, Date, Time string
	Count, Leaves    float64
	Lon, Lat         float64 // to seven decimals
}

// stopsAndVerdict are what a map of a file wrote.
func stopsAndVerdict(t *testing.T, file string, more ...string) (stops []mappedStop, verdict any) {
	t.Helper()
	out := "out-" + file
	code, _, errs := run(t, append([]string{"map", file, "--field", "field.geojson", "--out", out, "--quiet", "--force"}, more...)...)
	require.Zero(t, code, "%s: %s", file, errs)
	var collection struct {
		Features []struct {
			Properties mappedStop
			Geometry   struct{ Coordinates [2]float64 }
		}
	}
	written := contents(t, out)
	require.NoError(t, json.Unmarshal([]byte(written["stops.geojson"]), &collection))
	for _, f := range collection.Features {
		s := f.Properties
		s.Lon, s.Lat = math.Round(f.Geometry.Coordinates[0]*1e7)/1e7, math.Round(f.Geometry.Coordinates[1]*1e7)/1e7
		stops = append(stops, s)
	}
	var summary struct {
		Fields []map[string]any
	}
	require.NoError(t, json.Unmarshal([]byte(written["summary.json"]), &summary))
	require.Len(t, summary.Fields, 1)
	require.NotEmpty(t, summary.Fields[0]["verdict"])
	return stops, summary.Fields[0]["verdict"]
}

// One evening's walk, whatever file it comes in, has the same stops and the same
// verdict, and all of it is of the day on which it was walked.
func TestOneEveningInEveryFormat(t *testing.T) {
	inFolder(t)
	var want []mappedStop
	for _, s := range eveningWalk() {
		want = append(want, mappedStop{s.name, "2026-07-14", s.at.Format("15:04"), float64(s.count), float64(s.leaves), math.Round(s.lon*1e7) / 1e7, math.Round(s.lat*1e7) / 1e7})
	}
	require.Equal(t, "2026-07-14", eveningWalk()[0].at.UTC().Format(time.DateOnly))
	require.Equal(t, "2026-07-15", eveningWalk()[11].at.UTC().Format(time.DateOnly), "by UTC it ends on the day after")
	files := surveyFiles(t)
	require.Len(t, files, 8)
	for name, data := range files {
		require.NoError(t, os.WriteFile(name, data, 0o600))
	}
	_, verdict := stopsAndVerdict(t, "us.csv")
	for name := range files {
		for _, offset := range []string{"-5", ""} {
			stops, said := stopsAndVerdict(t, name, "--utc-offset", offset)
			assert.Equal(t, verdict, said, name)
			if offset == "" { // the sun tells the day, and its own time
				for i := range stops {
					stops[i].Time = want[i].Time
				}
			}
			assert.Equal(t, want, stops, "%s, offset %q", name, offset)
		}
	}
}
