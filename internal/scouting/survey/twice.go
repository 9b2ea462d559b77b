package survey

// Twice is a stop that is there twice with different counts, in lines that may be of two files.
type Twice struct {
	Stop        string
	First, Then string // as file:line
	file        string
	line        int // of First
}

// Of reports whether the stop has the first of the rows.
func (t Twice) Of(s Stop) bool {
	for i := range s.Records {
		if s.Records[i].File == t.file && s.Records[i].Line == t.line {
			return true
		}
	}
	return false
}
