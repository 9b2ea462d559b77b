//go:build !small

package engine

import (
	"github.com/geocoris/geocoris/internal/output/fieldwork"
	"github.com/geocoris/geocoris/internal/scouting/key"
)

// CheckMark is what is wrong with an answer to a mark; nil for an answer that it has.
func CheckMark(name, answer string) error {
	_, err := key.Judge(key.Seen{name: answer}, true)
	return err
}

// Key tells which aphid it is by the marks seen, with the rules that are published for
// it where one is decided.
func Key(q KeyRequest) (k fieldwork.Key, err error) {
	k.Wingless = q.Form == Wingless
	if k.Verdict, err = JudgeAphid(q); err != nil {
		return k, err
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
