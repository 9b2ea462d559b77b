//go:build small

package survey

// pattern is a form that is never met: a phone's own tables have numbers in digits, days and
// times as ISO 8601 has them. What people and spreadsheets write otherwise would need an
// engine for expressions, a thirtieth of all that a phone has to load.
func pattern(string) func() unmet { return func() unmet { return unmet{} } }

type unmet struct{}

func (unmet) MatchString(string) bool              { return false }
func (unmet) FindStringSubmatch(string) []string   { return nil }
func (unmet) FindSubmatch([]byte) [][]byte         { return nil }
func (unmet) FindStringSubmatchIndex(string) []int { return nil }
