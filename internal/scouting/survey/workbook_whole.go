//go:build !small

package survey

import (
	"archive/zip"
	"encoding/xml"
	"errors"
	"fmt"
	"path"
	"strconv"
	"strings"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/files/archive"
)

// checkWhole refuses a spreadsheet of which anything is damaged or missing, before a
// row of it is used: half a table looks like a small one. Every part is read to its
// end, where its checksum stands; every sheet to its end tag, and to the row that it
// says it reaches to; what sheets point to has to be there.
func checkWhole(name string, raw []byte, limits Limits) error {
	const hint = "fetch the file again, or open it in a spreadsheet program, look for rows that are missing, and save it anew"
	if err := findDamage(raw, limits); err != nil {
		return &geofile.Error{File: name, Msg: "is damaged: " + oneLine(err.Error()), Hint: hint}
	}
	return nil
}

func findDamage(raw []byte, limits Limits) error {
	z, err := archive.Open(raw)
	if err != nil {
		return err
	}
	left := limits.Bytes
	for _, part := range z.File {
		n, err := archive.ReadWhole(part, left)
		if err != nil {
			return err
		}
		left -= n
	}
	for _, part := range z.File {
		if isPart(part, "xl/_rels/") {
			if err := checkTargets(part, z.File, limits); err != nil {
				return fmt.Errorf("%s %w", part.Name, err)
			}
		}
	}
	texts, err := countTexts(z.File, limits)
	if err != nil {
		return err
	}
	for _, part := range z.File {
		switch {
		case isSheet(part):
			err = checkSheet(part, texts, limits)
		case isPart(part, "xl/styles.xml"), isPart(part, "xl/workbook.xml"):
			err = toTheEnd(part, limits, func(xml.Token) error { return nil })
		}
		if err != nil {
			return fmt.Errorf("%s %w", part.Name, err)
		}
	}
	return nil
}

func isSheet(part *zip.File) bool {
	return isPart(part, "xl/worksheets/") && !isPart(part, "xl/worksheets/_rels/") && strings.EqualFold(path.Ext(part.Name), ".xml")
}

// toTheEnd passes over a part, which is one element and nothing after it.
func toTheEnd(part *zip.File, limits Limits, do func(xml.Token) error) error {
	depth, roots := 0, 0
	err := eachToken(part, limits, func(token xml.Token) error {
		switch token.(type) {
		case xml.StartElement:
			if depth == 0 {
				roots++
			}
			depth++
		case xml.EndElement:
			depth--
		}
		return do(token)
	})
	var syntax *xml.SyntaxError
	switch {
	case errors.As(err, &syntax) && strings.HasPrefix(syntax.Msg, "unexpected EOF"), err == nil && roots == 0:
		return errors.New("breaks off")
	case err != nil:
		return fmt.Errorf("cannot be read: %w", err)
	case roots > 1:
		return errors.New("goes on behind its end")
	}
	return nil
}

// countTexts tells how many texts cells may share.
func countTexts(parts []*zip.File, limits Limits) (n int, err error) {
	for _, part := range parts {
		if !isPart(part, "xl/sharedstrings.xml") {
			continue
		}
		err := toTheEnd(part, limits, func(token xml.Token) error {
			if e, ok := token.(xml.StartElement); ok && e.Name.Local == "si" {
				n++
			}
			return nil
		})
		if err != nil {
			return 0, fmt.Errorf("%s %w", part.Name, err)
		}
	}
	return n, nil
}

// sheetExtent is what a sheet says of itself, and what is there.
type sheetExtent struct {
	reaches  int // the last row by its dimension; 0 where it is not given
	last     int // the last row that is there
	text     int // the highest number of a shared text, from 1; 0 for none
	inShared bool
	inValue  bool
}

func checkSheet(part *zip.File, texts int, limits Limits) error {
	var s sheetExtent
	if err := toTheEnd(part, limits, s.take); err != nil {
		return err
	}
	if s.text > texts {
		return fmt.Errorf("points to nothing: a cell shows text %d, and there are %d", s.text, texts)
	}
	if s.reaches > s.last {
		return fmt.Errorf("reaches to row %d, and its last row is %d", s.reaches, s.last)
	}
	return nil
}

func (s *sheetExtent) take(token xml.Token) error {
	switch e := token.(type) {
	case xml.StartElement:
		s.begin(e)
	case xml.EndElement:
		s.inValue = false
	case xml.CharData:
		if s.inValue {
			if i, err := strconv.Atoi(strings.TrimSpace(string(e))); err == nil {
				s.text = max(s.text, i+1)
			}
		}
	}
	return nil
}

func (s *sheetExtent) begin(e xml.StartElement) {
	switch e.Name.Local {
	case "dimension":
		s.reaches = lastRowOf(attribute(e, "ref"))
	case "row":
		s.last++ // a row without a number follows the one before
		if n, err := strconv.Atoi(attribute(e, "r")); err == nil {
			s.last = n
		}
	case "c":
		s.inShared = attribute(e, "t") == "s"
	}
	s.inValue = s.inShared && e.Name.Local == "v"
}

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// lastRowOf is the last row of a range such as A1:G55. A single cell stands for an
// empty sheet, or for a reach that the writer did not know: it tells nothing.
func lastRowOf(ref string) int {
	_, to, several := strings.Cut(ref, ":")
	if !several {
		return 0
	}
	n, err := strconv.Atoi(strings.TrimLeft(to, "$ABCDEFGHIJKLMNOPQRSTUVWXYZ"))
	if err != nil {
		return 0
	}
	return n
}

// checkTargets looks for the parts that a spreadsheet cannot be read rightly without.
func checkTargets(list *zip.File, parts []*zip.File, limits Limits) error {
	var missing string
	err := toTheEnd(list, limits, func(token xml.Token) error {
		e, ok := token.(xml.StartElement)
		if !ok || e.Name.Local != "Relationship" || attribute(e, "TargetMode") == "External" {
			return nil
		}
		switch path.Base(attribute(e, "Type")) {
		case "worksheet", "sharedStrings", "styles":
			if target := targetOf(attribute(e, "Target")); !holds(parts, target) {
				missing = target
			}
		}
		return nil
	})
	if err == nil && missing != "" {
		err = fmt.Errorf("points to nothing: %s is missing", missing)
	}
	return err
}

// targetOf is the name of a part that a list in xl/_rels names.
func targetOf(target string) string {
	target = strings.ReplaceAll(target, `\`, "/")
	if strings.HasPrefix(target, "/") {
		return strings.TrimPrefix(path.Clean(target), "/")
	}
	return path.Join("xl", target)
}

func holds(parts []*zip.File, name string) bool {
	for _, part := range parts {
		if strings.EqualFold(strings.ReplaceAll(part.Name, `\`, "/"), name) {
			return true
		}
	}
	return false
}
