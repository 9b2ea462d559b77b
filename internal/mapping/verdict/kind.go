package verdict

import "fmt"

// A Kind is what is advised. The zero value is None, so that nothing forgotten can
// pass for advice not to spray.
type Kind uint8

const (
	None       Kind = iota
	Undecided       // more stops are needed
	NoSpray         // nothing to do before the next usual visit
	LookAgain       // do not spray now; come back on the day
	SpotSpray       // treat the treat zone
	TreatWhole      // treat the whole field
)

// danger orders kinds by what is lost by not knowing: who must count on today stands
// between those who may wait and those who must spray.
func (k Kind) danger() int {
	switch k {
	case Undecided:
		return 3
	case LookAgain:
		return 2
	case NoSpray, None:
		return 1
	}
	return 3 + int(k-LookAgain)
}

// Graver reports that more is lost by not knowing this verdict than the other.
func (k Kind) Graver(than Kind) bool { return k.danger() > than.danger() }

// String is the verdict in words.
func (k Kind) String() string {
	switch k {
	case None:
		return "none"
	case Undecided:
		return "undecided"
	case NoSpray:
		return "no spray"
	case LookAgain:
		return "look again"
	case SpotSpray:
		return "spot spray"
	case TreatWhole:
		return "treat the whole field"
	}
	return fmt.Sprintf("kind %d", uint8(k))
}
