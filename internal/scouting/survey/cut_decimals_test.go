package survey_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

func TestDecimalCommasThatPartCellsAreNamed(t *testing.T) {
	const says = "counts.csv:2: decimal commas in a file separated by commas: 37,30054 is cut into 37 and 30054; save it with semicolons between the cells, or with decimal points"
	for name, text := range map[string]string{
		"latitude first": "Stop,Lat,Long,Aphids,Leaves,Date\n1,37,30054,-98,199322,12,10,7/16/2026\n2,37,30054,-98,197741,5,10,7/16/2026\n3,37,30054,-98,19616,30,10,7/16/2026\n",
		"one is whole":   "Stop,Lat,Long,Aphids,Leaves\n1,37,30054,-98,12,10\n2,37,30054,-98,197741,5,10\n3,36,-98,19616,30,10\n",
		"blanks behind":  "Stop,Lat,Long,Aphids,Leaves,,,\n1,37,30054,-98,199322,12,10,\n",
	} {
		_, err := decode(t, "counts.csv", text, survey.Options{})
		require.EqualError(t, err, says, name)
	}
	for name, text := range map[string]string{
		"semicolons":     "Stop;Lat;Long;Aphids;Leaves\n1;37,30054;-98,199322;12;10\n",
		"points":         "Stop,Lat,Long,Aphids,Leaves\n1,37.30054,-98.199322,12,10\n",
		"whole degrees":  "Stop,Lat,Long,Aphids,Leaves\n1,37,98,12,10\n2,37,97,12,10\n",
		"a remark apart": "Stop,Lat,Long,Aphids,Leaves,Notes\n1,37.30054,-98.199322,12,10,wet, late\n2,37.3,-98.2,12,10,\n3,37.4,-98.2,12,10,\n",
		"half of them":   "Stop,Lat,Long,Aphids,Leaves\n1,37,30054,-98,199322,12,10\n2,37.3,-98.1,12,10\n",
	} {
		s, err := decode(t, "counts.csv", text, survey.Options{})
		require.NoError(t, err, name)
		assert.NotEmpty(t, s.Stops, name)
	}
}
