package jobsheet

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The widths are those of DejaVu Sans 2.37 and its bold, in ems, by the advances in
// their files: viewers without another sans serif font set the sheet in it.
func TestLinesFitTheWidestFont(t *testing.T) {
	for text, ems := range map[string][2]float64{
		"With margin, in the": {9.66, 10.96},
		`As drawn, fields "Neighbour" and "Home" overlap by 0.581 ha: that ground goes to "Neighbour", the smaller one, and to`: {60.47, 68.18},
		"1.34 km (0.83 mi), 0.26 km (0.16 mi)": {18.62, 20.70},
		"Applicators, and in some places advisers, need a licence; drones need approvals of their own.": {47.09, 53.10},
		"Spray job: Home":                  {8.34, 9.34},
		"MWM mwm WWW":                      {9.08, 10.11},
		"--sections, or with --overrun 0m": {15.82, 17.92},
	} {
		for i, bold := range []bool{false, true} {
			assert.GreaterOrEqual(t, measure(text, bold), ems[i], "%q, bold %v", text, bold)
			assert.Less(t, measure(text, bold), 1.12*ems[i], "%q, bold %v: room is lost", text, bold)
			for _, line := range wrap(text, ems[i]-0.01, bold) {
				assert.Less(t, len(line), len(text), "one line would be cut off")
			}
		}
	}
}
