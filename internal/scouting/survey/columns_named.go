package survey

import "github.com/geocoris/geocoris/geo/geofile"

// Columns are the columns of a file of counts by the names that it gives them, for people
// to say what each is. Whether counts can be read from them is another question.
func Columns(from geofile.Source) ([]string, error) {
	t, err := readTable(from.Base(), from, Options{})
	return t.Header, err
}
