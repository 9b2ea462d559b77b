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
		{"zones.kmz", func(w io.Writer) error {
			err := geofile.ArchiveKML(w, read)
			_ = read.CloseWithError(err)
			return err
		}},
	}
}

// kmlFilesAlone are the same, the second made from the document too: neither waits for the
// other.
func kmlFilesAlone(d geofile.Document) []rendering {
	return []rendering{
		{"zones.kml", func(w io.Writer) error { return buffered(w, func(w io.Writer) error { return geofile.WriteKML(w, d) }) }},
		{"zones.kmz", func(w io.Writer) error {
			read, written := io.Pipe()
			go func() {
				_ = written.CloseWithError(buffered(written, func(w io.Writer) error { return geofile.WriteKML(w, d) }))
			}()
			err := geofile.ArchiveKML(w, read)
			_ = read.CloseWithError(err)
			return err
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
