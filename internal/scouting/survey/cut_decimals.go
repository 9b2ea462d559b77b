package survey

import "fmt"

var (
	wholeDegrees = pattern(`^[+-]?\d{1,3}$`)
	fraction     = pattern(`^\d{2,}$`)
)

// cutDecimals refuses a table in which commas part the cells and stand in the numbers too:
// most rows have more cells than the header, with the first position in two of them, as
// 37 and 30054. Each row alone would show five faults and never the cause.
func cutDecimals(t table, l *layout) error {
	first := l.at[colLatitude]
	if i := l.at[colLongitude]; i >= 0 && (first < 0 || i < first) {
		first = i
	}
	if !t.Delimited || t.DecimalComma || first < 0 {
		return nil
	}
	var shown row
	cut := 0
	for _, r := range t.Rows {
		if len(trimmed(r.Cells)) <= l.width || first+1 >= len(r.Cells) || !wholeDegrees().MatchString(r.Cells[first]) || !fraction().MatchString(r.Cells[first+1]) {
			continue
		}
		if cut++; cut == 1 {
			shown = r
		}
	}
	if 2*cut <= len(t.Rows) {
		return nil
	}
	whole, part := shown.Cells[first], shown.Cells[first+1]
	return fmt.Errorf("%s:%d: decimal commas in a file separated by commas: %s,%s is cut into %s and %s; save it with semicolons between the cells, or with decimal points",
		t.File, shown.Line, whole, part, whole, part)
}
