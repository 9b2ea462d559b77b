package verdict_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// A pest found at every stop is all over the field only where stops are.
func TestStopsOfAPartDoNotSayAllOver(t *testing.T) {
	for name, c := range map[string]struct {
		north float64 // degrees between rows of stops
		want  bool
	}{"one row": {0, false}, "rows over the field": {0.0013, true}} {
		var b strings.Builder
		b.WriteString("stop,longitude,latitude,count,leaves\n")
		for i := range 20 {
			fmt.Fprintf(&b, "%d,%.6f,%.6f,%d,10\n", i+1, -0.0026+0.0013*float64(i%5)+0.0001*float64(i/5), -0.0026+c.north*float64(i/5), 20+i)
		}
		s, err := survey.Read(given.Table(b.String()), survey.Options{})
		require.NoError(t, err)
		r, err := assess.Run(t.Context(), []geo.Field{{Name: "Square", Boundary: outline(700, false)}}, s, assess.Settings{Levels: assess.LevelSettings{TreatAt: 40}})
		require.NoError(t, err)
		require.Equal(t, !c.want, r.Fields[0].Layout.Partial(), name)
		all, err := verdict.Of(r, verdict.Settings{})
		require.NoError(t, err)
		assert.Equal(t, c.want, all[0].AllOver, name)
	}
}
