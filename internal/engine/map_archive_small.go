//go:build small

package engine

// archived is none: a page has no use for it.
func (kmlText) archived() []rendering { return nil }
