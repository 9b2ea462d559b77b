//go:build !small

package geofile

import (
	"bytes"
	"encoding/xml"
	"io"
	"runtime"

	"github.com/twpayne/go-kml/v3"
)

// How many placemarks of a folder are written as they come: those beyond are written in
// batches, of which several are made side by side.
const (
	batchedFrom = 8
	inBatch     = 64
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

// batches write the parts of a folder in their order.
type batches struct {
	output
	e      *xml.Encoder // of the document, which writes there
	next   []placed
	made   []*batch // not yet written, in their order
	unused []*batch // for the next ones
}

// batch is some placemarks in a row.
type batch struct {
	marks []placed
	by    patterns
	text  bytes.Buffer
	done  chan error
}

// by writes the parts of a folder in the document of an encoder.
func (o output) by(e *xml.Encoder) *batches { return &batches{output: o, e: e} }

// put writes a part, now or later. Batches pass the encoder by, so that it has to have
// written all that it was given before.
func (b *batches) put(part kml.Element) error {
	mark, is := part.(placed)
	if !is || mark.at < batchedFrom {
		return part.MarshalXML(b.e, xml.StartElement{})
	}
	if mark.at == batchedFrom {
		if err := b.e.Flush(); err != nil {
			return err
		}
	}
	if b.next = append(b.next, mark); len(b.next) < inBatch {
		return nil
	}
	b.begin()
	return b.write(runtime.GOMAXPROCS(0))
}

func (b *batches) begin() {
	one := &batch{by: patterns{depth: b.depth}, done: make(chan error, 1)}
	if last := len(b.unused) - 1; last >= 0 {
		one, b.unused = b.unused[last], b.unused[:last]
	}
	one.marks, b.next = b.next, one.marks[:0]
	b.made = append(b.made, one)
	go func() { one.done <- one.make() }()
}

// make writes the placemarks as they stand in a document.
func (b *batch) make() error {
	b.text.Reset()
	for _, mark := range b.marks {
		if err := b.by.write(&b.text, mark); err != nil {
			return err
		}
	}
	return nil
}

// write writes the first batches, so that no more than so many are left.
func (b *batches) write(left int) error {
	for len(b.made) > left {
		first := b.made[0]
		if err := <-first.done; err != nil {
			return err
		}
		if _, err := b.to.Write(first.text.Bytes()); err != nil {
			return err
		}
		b.made, b.unused = b.made[1:], append(b.unused, first)
	}
	return nil
}

// end writes what is left.
func (b *batches) end() error {
	if len(b.next) > 0 {
		b.begin()
	}
	return b.write(0)
}
