//go:build !js

package cli

import (
	"archive/zip"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/testdata/demo"
)

// german is the third week as a German spreadsheet saves it: semicolons, decimal commas,
// its own names, Windows-1252, and faults of people: a letter for a digit, a blank count,
// latitude and longitude exchanged. Invented.
func german(t *testing.T) string {
	t.Helper()
	content, err := fs.ReadFile(demo.Files(), "week3.csv")
	require.NoError(t, err)
	var b strings.Builder
	b.WriteString("Punkt;Breite;L\xe4nge;L\xe4use;Bl\xe4tter;Datum\r\n")
	for _, line := range strings.Split(strings.TrimSpace(string(content)), "\n")[1:] {
		cells := strings.Split(line, ",")
		count := cells[3]
		if cells[0] == "5" {
			count = "1l"
		}
		comma := func(s string) string { return strings.ReplaceAll(s, ".", ",") }
		fmt.Fprintf(&b, "%s;%s;%s;%s;%s;22.07.2026\r\n", cells[0], comma(cells[2]), comma(cells[1]), count, cells[4])
	}
	const name = "woche 3.csv"
	require.NoError(t, os.WriteFile(name, []byte(b.String()), 0o600))
	return name
}

// workbook is the third week as a spreadsheet of the United States saves it, with days as
// month/day/year, cells typed as text, and a count as "12 aphids?" (ECMA-376, the least
// that a workbook has). Invented.
func workbook(t *testing.T) string {
	t.Helper()
	content, err := fs.ReadFile(demo.Files(), "week3.csv")
	require.NoError(t, err)
	var rows strings.Builder
	text := func(s string) string { return `<c t="inlineStr"><is><t>` + s + `</t></is></c>` }
	for i, line := range strings.Split(strings.TrimSpace(string(content)), "\n") {
		c := strings.Split(line, ",")
		stop, lon, lat, count, leaves := text(c[0]), text(c[1]), text(c[2]), text(c[3]), text(c[4])
		date, pest := text("7/22/2026"), text("sorghum aphid")
		if i == 0 {
			date, pest = text("date"), text("pest")
		} else {
			stop, lon, lat, leaves = "<c><v>"+c[0]+"</v></c>", "<c><v>"+c[1]+"</v></c>", "<c><v>"+c[2]+"</v></c>", "<c><v>"+c[4]+"</v></c>"
		}
		if c[0] == "7" {
			count = text("lots")
		}
		rows.WriteString("<row>" + stop + lon + lat + count + leaves + date + pest + "</row>")
	}
	const name = "scouting july.xlsx"
	f, err := os.Create(name)
	require.NoError(t, err)
	z := zip.NewWriter(f)
	for _, part := range [][2]string{
		{"[Content_Types].xml", `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/></Types>`},
		{"_rels/.rels", `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>`},
		{"xl/workbook.xml", `<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="July" sheetId="1" r:id="r1"/></sheets></workbook>`},
		{"xl/_rels/workbook.xml.rels", `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`},
		{"xl/worksheets/sheet1.xml", `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>` + rows.String() + `</sheetData></worksheet>`},
	} {
		w, err := z.Create(part[0])
		require.NoError(t, err)
		_, err = w.Write([]byte(part[1]))
		require.NoError(t, err)
	}
	require.NoError(t, errors.Join(z.Close(), f.Close()))
	return name
}
