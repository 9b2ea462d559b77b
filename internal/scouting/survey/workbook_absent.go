//go:build small

package survey

import "github.com/geocoris/geocoris/geo/geofile"

// workbookTable is what a build without the reader of spreadsheets, such as the page's,
// says of them: what reads them is larger than all else that a phone has to load.
func workbookTable(name string, _ []byte, _ Options) (table, error) {
	return table{}, &geofile.Error{File: name, Msg: "spreadsheets are not in this build", Hint: "save the table as CSV"}
}
