package call

import (
	"encoding/json"
	"fmt"
	"strings"
)

// WarmUps are what a walk will ask for, on an invented field: browsers compile a program's
// functions when they first run, which takes most of the time of a first map. A page runs
// these while nobody waits, and looks at no reply.
func WarmUps() []Call {
	boundary := Given{Role: Boundary, Name: "field.geojson", Content: []byte(warmField)}
	counts := Given{Role: Counts, Name: "counts.csv", Content: warmCounts()}
	settings := json.RawMessage(`{"rule":"sorghum-aphid-mean-40","stage":"boot"}`)
	return []Call{
		{Do: "plan", Settings: json.RawMessage(`{"stops":12}`), Files: []Given{boundary}},
		{Do: "after", Settings: settings, Files: []Given{boundary, counts}},
		{Do: "map", Settings: settings, Files: []Given{boundary, counts}},
	}
}

// warmField is a square of some 400 m.
const warmField = `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"name":"Invented"},"geometry":{"type":"Polygon","coordinates":` +
	`[[[-101.6025,35.898],[-101.5975,35.898],[-101.5975,35.902],[-101.6025,35.902],[-101.6025,35.898]]]}}]}` + "\n"

// warmCounts are 16 stops of two leaves as a phone writes them, from nothing in the west to
// what has to be sprayed in the east.
func warmCounts() []byte {
	var b strings.Builder
	b.WriteString("stop,kind,latitude,longitude,accuracy_m,position,plant,leaf,count,leaves,plants_over,at_or_above,honeydew,colonies,predators,mummies,time,observer,pest,stage,notes\n")
	for i := range 16 {
		latitude, longitude := 35.8985+0.001*float64(i/4), -101.602+0.00125*float64(i%4)
		for _, leaf := range []string{"upper", "lower"} {
			fmt.Fprintf(&b, "%d,planned,%.7f,%.7f,5.0,measured,1,%s,%d,1,,,,,,,2026-07-14T06:%02d:00-05:00,,sorghum aphid,boot,\n", i+1, latitude, longitude, leaf, 30*(i%4), i)
		}
	}
	return []byte(b.String())
}
