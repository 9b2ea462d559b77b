//go:build !small

package survey

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
)

// Days and times are those that the library reads, also where it is not in the build.
func TestNumbersOfDaysAreReadAsTheLibraryReadsThem(t *testing.T) {
	for _, from1904 := range []bool{false, true} {
		for _, serial := range []float64{0.25, 0.999988, 61, 61.5, 18568, 36526, 44570.125, 46032, 46032.4375, 46032.999994, 73050, 109_999.75} {
			want, err := excelize.ExcelDateToTime(serial, from1904)
			require.NoError(t, err)
			got := instantOf(serial, from1904)
			if serial < 1 { // a time of no day
				assert.Equal(t, want.Round(time.Second).Format(time.TimeOnly), got.Round(time.Second).Format(time.TimeOnly), serial)
				continue
			}
			assert.Equal(t, want.Round(time.Second), got.Round(time.Second), "%v from 1904: %v", serial, from1904)
		}
	}
}
