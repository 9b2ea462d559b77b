//go:build small

package geofile

import (
	"fmt"
	"strings"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// encodingNamed is the encoding of a name: UTF-8 or one of single bytes, as those of
// East Asia are tables as large as a third of the program.
func encodingNamed(name string) (encoding.Encoding, error) {
	name = strings.ToLower(strings.TrimSpace(name))
	if name == "utf-8" || name == "utf8" {
		return unicode.UTF8, nil
	}
	for _, e := range charmap.All {
		if c, ok := e.(*charmap.Charmap); ok && strings.ReplaceAll(strings.ToLower(c.String()), " ", "-") == name {
			return c, nil
		}
	}
	return nil, fmt.Errorf("the encoding %q is not in this build", name)
}
