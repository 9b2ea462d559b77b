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

// A Slip is a column of a file that looks as if a spreadsheet had filled it, or as if it was
// sorted or moved by itself.
type Slip struct {
	File, Column string
	From, To     int  // lines
	Sorted       bool // by itself, or summed up on the way; else filled
	Ends         int  // -1: one row before the other columns, 1: beyond them; neither filled nor sorted then
}

// Of reports whether a row of the stop is one of the slip's.
func (p Slip) Of(s Stop) bool {
	for i := range s.Records {
		if r := &s.Records[i]; r.File == p.File && p.From <= r.Line && r.Line <= p.To {
			return true
		}
	}
	return false
}
