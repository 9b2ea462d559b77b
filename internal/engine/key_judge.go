package engine

import (
	"fmt"

	"github.com/geocoris/geocoris/internal/scouting/key"
)

// A KeyRequest asks which aphid it is.
type KeyRequest struct {
	Seen key.Seen // answers by the names of [KeyMarks], in small letters
	Form string   // what was looked at: wingless, winged or young
}

// Wingless is the form of which alone marks decide.
const Wingless = "wingless"

// KeyMarks are what is looked at, in the order in which it is asked.
func KeyMarks() []key.Mark { return key.Marks() }

// JudgeAphid tells which aphids the marks seen fit, and which they rule out.
func JudgeAphid(q KeyRequest) (key.Verdict, error) {
	if q.Form != Wingless && q.Form != "winged" && q.Form != "young" {
		return key.Verdict{}, usage(fmt.Errorf("--form %s: want wingless, winged or young", q.Form))
	}
	v, err := key.Judge(q.Seen, q.Form == Wingless)
	if err != nil {
		return key.Verdict{}, usage(err)
	}
	return v, nil
}
