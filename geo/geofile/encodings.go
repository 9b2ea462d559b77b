//go:build !small

package geofile

import (
	"fmt"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/htmlindex"
)

// encodingNamed is the encoding of a name, as browsers understand it.
func encodingNamed(name string) (encoding.Encoding, error) {
	e, err := htmlindex.Get(name)
	if err != nil {
		return nil, fmt.Errorf("the encoding %q is not known", name)
	}
	return e, nil
}
