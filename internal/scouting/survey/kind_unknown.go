//go:build !small

package survey

import "fmt"

// unknownKind is a note on the first kind of stop that is not known: an extra stop would be in
// the mean of the field by it.
func (l *layout) unknownKind(t table) []string {
	for _, r := range t.Rows {
		if text := l.text(r, colKind); text != "" {
			if _, _, known := kindOfStop(text); !known {
				return []string{fmt.Sprintf("%s: line %d: kind %s is neither planned nor extra, and is not read", t.File, r.Line, quote(text))}
			}
		}
	}
	return nil
}
