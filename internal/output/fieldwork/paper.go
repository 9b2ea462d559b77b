//go:build !small

package fieldwork

import (
	"html/template"
	"io"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/visible"
)

// A paper is a page to print, which a phone shows too.
type paper struct {
	title string
	style string        // beside what all have
	body  string        // template of what stands in main, h1 first
	said  figures.Units // the language of the page
}

func (p paper) write(w io.Writer, data any) error {
	t, err := template.New("paper").Parse(paperHead + p.body + "{{end}}</main>\n</body>\n</html>\n")
	if err != nil {
		return err
	}
	return t.Execute(&visible.Writer{To: w}, map[string]any{"Title": p.title, "Style": template.CSS(p.style), "Data": data, "Language": p.said.Language().String()})
}

// Sizes in millimetres and points are those of the print; on a screen they are the
// same in CSS. Tables wider than a phone are scrolled within their frame.
const paperHead = `<!DOCTYPE html>
<html lang="{{.Language}}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'">
<title>{{.Title}}</title>
<style>
@page { margin: 10mm }
:root { color-scheme: light }
body { font: 11pt/1.35 sans-serif; color: #000; background: #fff; margin: 0 auto; max-width: 196mm; padding: 3mm }
h1 { font-size: 15pt; line-height: 1.2; margin: 0 0 2mm }
h2 { font-size: 12pt; line-height: 1.2; margin: 4mm 0 1mm; break-after: avoid }
p { margin: 0 0 1.2mm }
cite { font-style: normal }
table { border-collapse: collapse; width: 100%; margin: 2mm 0; font-variant-numeric: tabular-nums }
thead { display: table-header-group }
tr { break-inside: avoid }
th, td { border: .25mm solid #000; padding: .6mm 1mm; vertical-align: middle }
th { font-size: 9.5pt; line-height: 1.15; background: #e4e4e4 }
.wide { overflow-x: auto }
.wide:focus-visible { outline: 3px solid #0072B2 }
@media print { body { max-width: none; padding: 0 } .wide { overflow: visible } table { width: calc(100% - 0.3mm); margin-left: 0.15mm } }
{{.Style}}</style>
</head>
<body>
<main>
{{with .Data}}`
