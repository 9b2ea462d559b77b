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

// kmlFilesAlone are the same, the second made from the document too: neither waits for the
// other.
func kmlFilesAlone(d geofile.Document) []rendering {
	kml := func(w io.Writer) error {
		return buffered(w, func(some io.Writer) error { return geofile.WriteKML(some, d) })
	}
	return []rendering{
		{"zones.kml", kml},
		{"zones.kmz", func(w io.Writer) error {
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
