//go:build small

package geofile

import (
	"encoding/xml"
	"io"

	"github.com/twpayne/go-kml/v3"
)

// output writes the parts of a folder as they come: a page has one thread.
type output struct{}

func outputTo(io.Writer) output { return output{} }

func (output) within() output { return output{} }

func (output) by(e *xml.Encoder) asTheyCome { return asTheyCome{e} }

type asTheyCome struct{ *xml.Encoder }

func (a asTheyCome) put(part kml.Element) error {
	return part.MarshalXML(a.Encoder, xml.StartElement{})
}

func (asTheyCome) end() error { return nil }
