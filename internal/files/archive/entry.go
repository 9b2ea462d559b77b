package archive

import (
	"archive/zip"
	"io"
	"time"
)

// firstDay is the earliest day that an entry of an archive can have (APPNOTE.TXT 6.3.10,
// 4.4.6: years count from 1980, months and days from 1). No clock is asked, so that
// archives are byte-equal on every run.
var firstDay = time.Date(1980, time.January, 1, 0, 0, 0, 0, time.UTC)

// Add begins a packed entry of an archive, of a day that is one: without, it is the
// nought of month 0, and some programs refuse to unpack that.
func Add(w *zip.Writer, name string) (io.Writer, error) {
	return w.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: firstDay})
}
