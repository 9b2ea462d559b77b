//go:build !small

package geofile

import (
	"bytes"
	"encoding/xml"
	"io"

	"github.com/twpayne/go-kml/v3"
)

// output is where the parts of a folder go.
type output struct {
	to    io.Writer
	depth int // in how many elements the parts are
}

// outputTo is that of the folders of a document.
func outputTo(w io.Writer) output { return output{w, 3} }

// within is that of a folder in a folder.
func (o output) within() output { return output{o.to, o.depth + 1} }

// by writes the parts of a folder in the document of an encoder.
func (o output) by(e *xml.Encoder) *parts {
	return &parts{to: o.to, e: e, like: patterns{depth: o.depth}}
}

// parts writes the parts of a folder in their order: by an encoder that writes there too, or
// past it.
type parts struct {
	to   io.Writer
	e    *xml.Encoder
	like patterns
	text bytes.Buffer // not yet written, of parts after all that the encoder was given
}

// partsAtOnce is how much of them is written at a time.
const partsAtOnce = 32 << 10

func (f *parts) put(part kml.Element) error {
	if mark, is := part.(placed); is {
		filled, err := f.like.fill(&f.text, mark)
		if err != nil {
			return err
		}
		if filled {
			return f.write(partsAtOnce)
		}
	}
	if err := f.end(); err != nil {
		return err
	}
	return part.MarshalXML(f.e, xml.StartElement{})
}

// write writes the text where it is so long.
func (f *parts) write(least int) error {
	if f.text.Len() < least {
		return nil
	}
	if err := f.e.Flush(); err != nil {
		return err
	}
	_, err := f.text.WriteTo(f.to)
	return err
}

// end writes what is left.
func (f *parts) end() error { return f.write(1) }
