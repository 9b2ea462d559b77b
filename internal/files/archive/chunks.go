package archive

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"io"
	"runtime"
)

// NewWriter is a [zip.Writer] that packs long entries by all processors. What it writes does
// not depend on how many there are, and entries of up to a mebibyte are packed as
// [zip.NewWriter] packs them.
func NewWriter(w io.Writer) *zip.Writer {
	z := zip.NewWriter(w)
	z.RegisterCompressor(zip.Deflate, func(to io.Writer) (io.WriteCloser, error) {
		first, err := flate.NewWriter(to, level)
		return &chunks{to: to, first: first}, err
	})
	return z
}

const (
	// chunkSize is how much is packed as one piece, side by side with others.
	chunkSize = 1 << 20
	// window is how far back a match of deflate may lie (RFC 1951, 2).
	window = 32 << 10
	// level is the one that archive/zip packs by.
	level = 5
)

// chunks packs what is written to it in pieces of one size. Each begins with what stood before
// it as its dictionary and ends on a whole byte (RFC 1951, 3.2.4), so that all of them in
// their order are one stream. A piece that is being packed when nobody writes on ends by itself.
type chunks struct {
	to     io.Writer
	first  *flate.Writer // packs the first piece as it comes, most entries being no longer; nil after it
	filled []byte        // of the piece that is being written
	before []byte        // the end of the one before it
	packed []chan chunk  // in their order, those that are being packed too
	err    error         // of to
}

// A chunk is a piece as it came and packed.
type chunk struct {
	text []byte
	to   *bytes.Buffer
}

// Write implements [io.Writer].
func (c *chunks) Write(some []byte) (n int, err error) {
	for n < len(some) && c.err == nil {
		if len(c.filled) == chunkSize {
			c.give()
			continue
		}
		next := some[n:min(n+chunkSize-len(c.filled), len(some))]
		c.filled = append(c.filled, next...)
		if c.first != nil {
			_, c.err = c.first.Write(next)
		}
		n += len(next)
	}
	return n, c.err
}

// Close packs and writes what is left.
func (c *chunks) Close() error {
	if c.first != nil {
		if err := c.first.Close(); c.err == nil {
			c.err = err
		}
		return c.err
	}
	last := chunk{c.filled, &bytes.Buffer{}}
	pack(last, c.before, true)
	for len(c.packed) > 0 {
		c.take()
	}
	if c.err == nil {
		_, c.err = last.to.WriteTo(c.to)
	}
	return c.err
}

// give has a full piece packed, once one of the others is done where each processor has one.
func (c *chunks) give() {
	if c.first != nil {
		c.err = c.first.Flush()
		c.first, c.before, c.filled = nil, bytes.Clone(c.filled[chunkSize-window:]), make([]byte, 0, chunkSize)
		return
	}
	next := chunk{text: c.filled}
	if len(c.packed) == runtime.GOMAXPROCS(0) {
		done := c.take()
		c.filled, next.to = done.text[:0], done.to
	} else {
		c.filled, next.to = make([]byte, 0, chunkSize), &bytes.Buffer{}
	}
	before, done := c.before, make(chan chunk, 1)
	c.before = bytes.Clone(next.text[chunkSize-window:])
	c.packed = append(c.packed, done)
	go func() {
		pack(next, before, false)
		done <- next
	}()
}

// take writes the first of those that were given, as soon as it is packed.
func (c *chunks) take() chunk {
	done := <-c.packed[0]
	c.packed = c.packed[1:]
	if c.err == nil {
		_, c.err = c.to.Write(done.to.Bytes())
	}
	done.to.Reset()
	return done
}

// pack packs a piece after what stood before it, and ends the stream with the last one.
func pack(c chunk, before []byte, last bool) {
	w, _ := flate.NewWriterDict(c.to, level, before) // an error only of levels that there are not
	_, _ = w.Write(c.text)                           // a buffer takes all
	if last {
		_ = w.Close()
		return
	}
	_ = w.Flush()
}
