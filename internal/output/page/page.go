// Package page writes a morning's result as one file of HTML to be looked at, sent
// and printed: everything is in it, it asks for nothing from anywhere, and a
// policy in its head forbids it to.
//
// What moves, zooms and answers to a finger is a convenience: the map, its figures
// and all tables stand there without it.
package page

import (
	"bytes"
	"crypto/sha256"
	_ "embed" // the page, its look and its behaviour
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"slices"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/visible"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/output/scene"
)

var (
	//go:embed parts.html
	parts string
	//go:embed page.html
	markup string
	//go:embed page.css
	rules string
	//go:embed page.js
	behaviour string
)

// look is the style of every page, with the colours of the zones.
var look = report.ColoursCSS() + rules

// An Input is a file that the result was made from.
type Input struct{ Path, SHA256 string }

// A Field is one scouted field of the page.
type Field struct {
	scene.Subject
}

// A Page is what is to be shown. Fields are of one result, of which there is at
// least one.
type Page struct {
	Fields  []Field
	Units   figures.Units
	Notes   []string // of readers before the survey's own
	Program string   // name and version
	Command string
	Inputs  []Input
}

// Write writes the page. The same page has the same bytes.
func (p Page) Write(w io.Writer) error {
	if len(p.Fields) == 0 {
		return fmt.Errorf("no field was scouted, so there is nothing to show")
	}
	v, err := p.view()
	if err != nil {
		return err
	}
	return render(w, markup, v, p.Units)
}

// render writes a page whole or not at all; its markup may call on the parts.
func render(w io.Writer, markup string, view any, u figures.Units) error {
	t, err := template.New("page").Funcs(said(u)).Parse(markup)
	if err != nil {
		return err
	}
	if _, err := t.New("parts").Parse(parts); err != nil {
		return err
	}
	var b bytes.Buffer
	if err := t.Execute(&b, view); err != nil {
		return err
	}
	_, err = (&visible.Writer{To: w}).Write(b.Bytes())
	return err
}

// policy forbids everything but the look, the behaviour and the pictures that
// stand in the file itself: Content Security Policy Level 3 (W3C), by hash.
func policy(look template.CSS) string {
	return fmt.Sprintf("default-src 'none'; style-src '%s'; script-src '%s'; img-src data:; base-uri 'none'; form-action 'none'",
		hash(string(look)), hash(behaviour))
}

func hash(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}

// notes are all that was said on reading and assessing.
func (p Page) notes() []string {
	r := p.Fields[0].Result
	return slices.Concat(p.Notes, r.Survey.Notes, r.Notes)
}
