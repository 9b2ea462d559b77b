//go:build !small

package survey

import "slices"

// ByObserver parts the rows of a stop that several people counted, in order of first
// appearance; rows without a name go by themselves. It is nil where one person counted all.
func (s Stop) ByObserver() (parts []Stop) {
	if !slices.ContainsFunc(s.Records, func(r Record) bool { return r.Observer != s.Records[0].Observer }) {
		return nil
	}
	at := map[string]int{}
	for i := range s.Records {
		who := s.Records[i].Observer
		n, known := at[who]
		if !known {
			n = len(parts)
			at[who] = n
			parts = append(parts, Stop{Name: s.Name})
		}
		parts[n].Records = append(parts[n].Records, s.Records[i])
	}
	for n := range parts {
		parts[n].sum()
	}
	return parts
}
