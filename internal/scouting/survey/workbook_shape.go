//go:build !small

package survey

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"golang.org/x/text/encoding/htmlindex"
)

const (
	// mostUnpacked is how many times its packed size a part of a spreadsheet may
	// be; sheets of the same row over and over reach some tens.
	mostUnpacked = 200
	// littlePacked is the packed size below which the ratio says nothing.
	littlePacked = 1 << 10
)

// checkWorkbook looks through a spreadsheet before it is read, and refuses one that
// would take more memory than its size lets expect. A text that many cells share
// stands in it once, and where it has fonts of its own it is put together anew for
// each cell.
func checkWorkbook(raw []byte, limits Limits) error {
	archive, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw)))
	if err != nil {
		return err
	}
	var shared []int64
	for _, part := range archive.File {
		if part.UncompressedSize64 > mostUnpacked*max(part.CompressedSize64, littlePacked) {
			return fmt.Errorf("%s in it unpacks to more than %d times its size", part.Name, mostUnpacked)
		}
		if isPart(part, "xl/sharedstrings.xml") {
			if shared, err = sharedTexts(part, limits); err != nil {
				return err
			}
		}
	}
	for _, part := range archive.File {
		if len(shared) > 0 && isPart(part, "xl/worksheets/") {
			if err := checkShared(part, shared, limits); err != nil {
				return err
			}
		}
	}
	return nil
}

func isPart(f *zip.File, begins string) bool {
	return strings.HasPrefix(strings.ToLower(strings.ReplaceAll(f.Name, "\\", "/")), begins)
}

// sharedTexts are the lengths in bytes of the texts that cells share. They are none
// where no text is put together of several.
func sharedTexts(part *zip.File, limits Limits) (lengths []int64, err error) {
	runs, length, inText := false, int64(0), false
	err = eachToken(part, limits, func(token xml.Token) error {
		switch e := token.(type) {
		case xml.StartElement:
			inText = e.Name.Local == "t"
			runs = runs || e.Name.Local == "r"
			if e.Name.Local == "si" {
				length = 0
			}
		case xml.EndElement:
			inText = false
			if e.Name.Local == "si" {
				lengths = append(lengths, length)
			}
		case xml.CharData:
			if inText {
				length += int64(len(e))
			}
			if length >= int64(limits.CellBytes) {
				return fmt.Errorf("a cell of more than %s", sizeOf(int64(limits.CellBytes)))
			}
		}
		return nil
	})
	if !runs {
		return nil, err
	}
	return lengths, err
}

// checkShared adds up the texts that the cells of a sheet take from those shared.
func checkShared(part *zip.File, lengths []int64, limits Limits) error {
	left := limits.Bytes
	inShared, inValue := false, false
	return eachToken(part, limits, func(token xml.Token) error {
		switch e := token.(type) {
		case xml.StartElement:
			if e.Name.Local == "c" {
				inShared = false
				for _, a := range e.Attr {
					inShared = inShared || a.Name.Local == "t" && a.Value == "s"
				}
			}
			inValue = inShared && e.Name.Local == "v"
		case xml.EndElement:
			inValue = false
		case xml.CharData:
			if !inValue {
				return nil
			}
			if i, err := strconv.Atoi(strings.TrimSpace(string(e))); err == nil && i >= 0 && i < len(lengths) {
				left -= lengths[i]
			}
		}
		if left < 0 {
			return fmt.Errorf("its cells hold more than %s: is this a table of counts?", sizeOf(limits.Bytes))
		}
		return nil
	})
}

// eachToken passes over a part of a spreadsheet.
func eachToken(part *zip.File, limits Limits, do func(xml.Token) error) error {
	r, err := part.Open()
	if err != nil {
		return err
	}
	defer r.Close()
	tokens := xml.NewDecoder(io.LimitReader(r, limits.Bytes))
	tokens.CharsetReader = charsetReader
	for {
		token, err := tokens.Token()
		switch {
		case errors.Is(err, io.EOF):
			return nil
		case err != nil:
			return err
		}
		if err := do(token); err != nil {
			return err
		}
	}
}

// charsetReader reads what a part of a spreadsheet is written in.
func charsetReader(label string, input io.Reader) (io.Reader, error) {
	encoding, err := htmlindex.Get(label)
	if err != nil {
		return nil, err
	}
	return encoding.NewDecoder().Reader(input), nil
}
