// Package sheet makes the paper that goes to the field: one page with room for a
// morning's stops, for those who write first and type later.
package sheet

import (
	_ "embed" // the page
	"html/template"
	"io"
)

// Stops is how many a page has room for.
const Stops = 20

// leaves is how many leaves of a stop have a box of their own.
const leaves = 10

//go:embed sheet.html
var page string

// WriteHTML writes the page. It asks for nothing from anywhere and prints on one
// side of A4 or letter, landscape.
func WriteHTML(w io.Writer) error {
	form, err := template.New("sheet").Parse(page)
	if err != nil {
		return err
	}
	numbers := func(n int) []int {
		list := make([]int, n)
		for i := range list {
			list[i] = i + 1
		}
		return list
	}
	return form.Execute(w, map[string]any{"Stops": numbers(Stops), "Leaves": numbers(leaves)})
}
