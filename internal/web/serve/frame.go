package serve

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"github.com/geocoris/geocoris/internal/web/call"
)

// frameType is the media type of calls and replies: a line of JSON that ends with a line
// feed, then the bytes of its files, one after the other. The line tells how many bytes
// each has.
const frameType = "application/octet-stream"

// mostLine bounds the line of a call: settings, and names of files.
const mostLine = 1 << 20

// A callLine is the line of a call, a replyLine that of a reply.
type callLine struct {
	Call  call.Call `json:"call"`
	Sizes []int64   `json:"sizes"` // of its files
}

type replyLine struct {
	Reply call.Reply `json:"reply"`
	Sizes []int      `json:"sizes"`
}

// readCall reads a call. A frame that says more or less than it holds is an error.
func readCall(from io.Reader) (call.Call, error) {
	in := bufio.NewReader(from)
	text, err := lineOf(in)
	if err != nil {
		return call.Call{}, err
	}
	var line callLine
	if err := json.Unmarshal(text, &line); err != nil {
		return call.Call{}, fmt.Errorf("the call: %w", err)
	}
	if len(line.Sizes) != len(line.Call.Files) {
		return call.Call{}, fmt.Errorf("the call names %d files and tells %d sizes", len(line.Call.Files), len(line.Sizes))
	}
	for i, size := range line.Sizes {
		if line.Call.Files[i].Content, err = contentOf(in, size); err != nil {
			return call.Call{}, fmt.Errorf("%s: %w", line.Call.Files[i].Name, err)
		}
	}
	if _, err := in.ReadByte(); !errors.Is(err, io.EOF) {
		return call.Call{}, errors.Join(errors.New("more came than the call tells of"), err)
	}
	return line.Call, nil
}

func lineOf(in *bufio.Reader) (line []byte, err error) {
	for {
		part, err := in.ReadSlice('\n')
		line = append(line, part...)
		switch {
		case len(line) > mostLine:
			return nil, fmt.Errorf("the line of the call has more than %d bytes", mostLine)
		case errors.Is(err, bufio.ErrBufferFull):
		case err != nil:
			return nil, fmt.Errorf("the line of the call: %w", err)
		default:
			return line, nil
		}
	}
}

// contentOf reads so many bytes; what is told is not taken on trust for a buffer.
func contentOf(in io.Reader, size int64) ([]byte, error) {
	if size < 0 {
		return nil, errors.New("a size below nothing")
	}
	content, err := io.ReadAll(io.LimitReader(in, size))
	if err == nil && int64(len(content)) != size {
		err = fmt.Errorf("%d bytes of %d came", len(content), size)
	}
	return content, err
}

// errNotSaid is a reply that JSON has no way to say.
var errNotSaid = errors.New("the reply cannot be said")

func writeReply(w io.Writer, r call.Reply) error {
	line := replyLine{Reply: r, Sizes: []int{}}
	for _, f := range r.Files {
		line.Sizes = append(line.Sizes, len(f.Content))
	}
	text, err := json.Marshal(line)
	if err != nil {
		return fmt.Errorf("%w: %w", errNotSaid, err)
	}
	if _, err := w.Write(append(text, '\n')); err != nil {
		return err
	}
	for _, f := range r.Files {
		if _, err := w.Write(f.Content); err != nil {
			return err
		}
	}
	return nil
}
