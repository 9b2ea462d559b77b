package geofile

import (
	"bytes"
	"errors"
)

// recordSeparator stands before each text of a sequence (RFC 8142, RFC 7464).
const recordSeparator = 0x1E

// looksLikeSequence finds GeoJSON texts one after the other: with separators, or
// one whole text to a line.
func looksLikeSequence(text []byte) bool {
	if len(text) > 0 && text[0] == recordSeparator {
		return true
	}
	line, rest, more := bytes.Cut(text, []byte("\n"))
	line, rest = bytes.TrimSpace(line), bytes.TrimSpace(rest)
	return more && bytes.HasPrefix(line, []byte("{")) && bytes.HasSuffix(line, []byte("}")) && bytes.HasPrefix(rest, []byte("{"))
}

// sequence reads one text to a record, features or geometries.
func (g *geoJSON) sequence() (all Collection, err error) {
	for line, rest := 1, g.text; len(rest) > 0; {
		cut := bytes.IndexAny(rest, "\n\x1e")
		record := rest
		if cut >= 0 {
			record, rest = rest[:cut+1], rest[cut+1:]
		} else {
			rest = nil
		}
		if content := bytes.Trim(record, "\x1e \t\r\n"); len(content) > 0 {
			if err := g.record(content, line); err != nil {
				return all, err
			}
		}
		line += bytes.Count(record, []byte("\n"))
	}
	all.Features, all.Notes = g.features, g.summary()
	return all, nil
}

// record reads one text as if it were a file, and puts its lines where they are.
func (g *geoJSON) record(text []byte, line int) error {
	root, err := readJSON(text, g.limits)
	first := len(g.features)
	if err == nil {
		g.text, g.lines, g.system = text, lineCounter{text: text}, nil
		err = g.collect(root)
	}
	for i := first; i < len(g.features); i++ {
		g.features[i].Line += line - 1
	}
	var e *Error
	if errors.As(err, &e) {
		e.Line += line - 1
		e.Feature = first + 1
	}
	if err == nil && len(g.features) > g.limits.Features {
		err = tooManyFeatures(g.limits)
	}
	return err
}
