//go:build !small

package engine

import (
	"fmt"

	"github.com/geocoris/geocoris/internal/output/fieldwork"
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

// CheckMark is what is wrong with an answer to a mark; nil for an answer that it has.
func CheckMark(name, answer string) error {
	_, err := key.Judge(key.Seen{name: answer}, true)
	return err
}

// Key tells which aphid it is by the marks seen, with the rules that are published for
// it where one is decided.
func Key(q KeyRequest) (k fieldwork.Key, err error) {
	if q.Form != Wingless && q.Form != "winged" && q.Form != "young" {
		return k, usage(fmt.Errorf("--form %s: want wingless, winged or young", q.Form))
	}
	k.Wingless = q.Form == Wingless
	if k.Verdict, err = key.Judge(q.Seen, k.Wingless); err != nil {
		return k, usage(err)
	}
	if k.Decided {
		book, err := RuleBook(nil)
		if err != nil {
			return k, err
		}
		k.Rules = book.OfPest(k.Fits[0].Name)
	}
	return k, nil
}

// KeyPage is the key as a page to print.
func KeyPage() ([]File, error) {
	return render([]rendering{{"key.html", fieldwork.KeyPage{}.WriteHTML}})
}
