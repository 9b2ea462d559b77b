package page_test

import (
	"testing"

	"github.com/geocoris/geocoris/internal/testkit"
)

// What is read before anything is opened is plain: the pages of each week and that of all.
func TestPagesReadEasily(t *testing.T) {
	for name, text := range map[string]string{
		"week1": html(t, of(t, demo(t, "week1"))), "week2": html(t, of(t, demo(t, "week2"))), "week3": html(t, of(t, demo(t, "week3"))), "weeks": weeks(t, compared(t)),
		"twelve": html(t, twelve(t)), "unlike": html(t, unlike(t)), "sprayed": weeks(t, sprayed(t)),
	} {
		t.Run(name, func(t *testing.T) {
			testkit.AssertReads(t, testkit.PageText(t, text), 9, 25)
		})
	}
}
