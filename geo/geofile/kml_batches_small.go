//go:build small

package geofile

import (
	"encoding/xml"

	"github.com/twpayne/go-kml/v3"
)

// batches write the parts of a folder as they come: a page has one thread.
type batches struct{ e *xml.Encoder }

func (f folder) written(e *xml.Encoder) batches { return batches{e} }

func (b batches) put(part kml.Element) error { return part.MarshalXML(b.e, xml.StartElement{}) }

func (batches) end() error { return nil }
