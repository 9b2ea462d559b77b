package testkit

import (
	"encoding/xml"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A PDFPage is a page of a PDF as pdftotext reads it. Lengths are points, 1/72
// inch, from its upper left corner.
type PDFPage struct {
	Width  float64   `xml:"width,attr"`
	Height float64   `xml:"height,attr"`
	Words  []PDFWord `xml:"word"`
}

// A PDFWord is a word and the box round it.
type PDFWord struct {
	XMin float64 `xml:"xMin,attr"`
	YMin float64 `xml:"yMin,attr"`
	XMax float64 `xml:"xMax,attr"`
	YMax float64 `xml:"yMax,attr"`
	Text string  `xml:",chardata"`
}

// PDFPages reads the pages of a PDF. Where pdftotext is missing the test is
// skipped, in CI it fails.
func PDFPages(t testing.TB, path string) []PDFPage {
	t.Helper()
	var read struct {
		Pages []PDFPage `xml:"body>doc>page"`
	}
	require.NoError(t, xml.Unmarshal([]byte(Program(t, nil, "pdftotext", "-bbox", path, "-")), &read))
	require.NotEmpty(t, read.Pages, "no pages in %s", path)
	return read.Pages
}

// Text is all words of the page, in their order, with a space between.
func (p PDFPage) Text() string {
	words := make([]string, len(p.Words))
	for i, w := range p.Words {
		words[i] = w.Text
	}
	return strings.Join(words, " ")
}
