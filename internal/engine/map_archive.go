//go:build !small

package engine

import (
	"bufio"
	"io"

	"github.com/geocoris/geocoris/geo/geofile"
)

// packedAtOnce keeps the two from waiting for one another all the time.
const packedAtOnce = 32 << 10

// kmlFiles are a document as KML, and packed while it is being written.
func kmlFiles(d geofile.Document) []rendering {
	read, written := io.Pipe()
	return []rendering{
		{"zones.kml", func(w io.Writer) error {
			err := buffered(written, func(some io.Writer) error { return geofile.WriteKML(io.MultiWriter(w, some), d) })
			_ = written.CloseWithError(err)
			return err
		}},
		{"zones.kmz", func(w io.Writer) error { return packed(w, read) }},
	}
}

// kmlFilesAlone are the same where each may be written by itself, in any order. What is
// packed while the first is written is kept for the second, which is made from the document
// only where it is asked for before.
func kmlFilesAlone(d geofile.Document) []rendering {
	kml := func(w io.Writer) error {
		return buffered(w, func(some io.Writer) error { return geofile.WriteKML(some, d) })
	}
	var beside packing
	return []rendering{
		{"zones.kml", func(w io.Writer) error {
			kept := beside.begin()
			if kept == nil {
				return kml(w)
			}
			read, written := io.Pipe()
			go func() { kept.end(packed(kept, read)) }()
			err := kml(io.MultiWriter(w, written))
			_ = written.CloseWithError(err)
			return err
		}},
		{"zones.kmz", func(w io.Writer) error {
			if kept := beside.take(); kept != nil {
				return kept.copyTo(w)
			}
			read, written := io.Pipe()
			go func() { _ = written.CloseWithError(kml(written)) }()
			return packed(w, read)
		}},
	}
}

func buffered(w io.Writer, write func(io.Writer) error) error {
	some := bufio.NewWriterSize(w, packedAtOnce)
	if err := write(some); err != nil {
		return err
	}
	return some.Flush()
}

// packed packs KML while it is being written.
func packed(w io.Writer, kml *io.PipeReader) error {
	err := geofile.ArchiveKML(w, kml)
	_ = kml.CloseWithError(err)
	return err
}
