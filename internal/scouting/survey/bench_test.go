package survey_test

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// million is a table of a row to each leaf, ten leaves to a stop.
func million(rows int) []byte {
	rng := rand.New(rand.NewPCG(1, 2))
	var b bytes.Buffer
	b.WriteString("stop,longitude,latitude,count,leaves,time,observer,pest,notes\n")
	var lon, lat float64
	for i := range rows {
		if i%10 == 0 {
			lon, lat = -101.6+0.008*(rng.Float64()-0.5), 35.9+0.006*(rng.Float64()-0.5)
		}
		fmt.Fprintf(&b, "%d,%.6f,%.6f,%d,1,2026-07-15T06:%02d:00-05:00,scout A,sorghum aphid,row number %d of the morning\n",
			i/10+1, lon, lat, int(math.Exp(3*rng.Float64())), i%60, i)
	}
	return b.Bytes()
}

func BenchmarkMillionRows(b *testing.B) { benchmarkDecode(b, million(1_000_000)) }

// Rows that name plant and leaf are compared with one another.
func BenchmarkMillionLeaves(b *testing.B) {
	lines := bytes.Split(bytes.TrimSpace(million(1_000_000)), []byte("\n"))
	lines[0] = append(lines[0], ",plant,leaf"...)
	for i := range lines[1:] {
		lines[i+1] = fmt.Appendf(nil, "%s,%d,%s", lines[i+1], i/2%5+1, [2]string{"upper", "lower"}[i%2])
	}
	benchmarkDecode(b, bytes.Join(lines, []byte("\n")))
}

// Every line has quotes, so none is cut where it stands.
func BenchmarkMillionQuoted(b *testing.B) {
	benchmarkDecode(b, bytes.ReplaceAll(million(1_000_000), []byte("scout A"), []byte("\"scout A\"")))
}

func benchmarkDecode(b *testing.B, data []byte) {
	opts := survey.Options{Limits: survey.Limits{Bytes: 1 << 30, Rows: 2_000_000}}
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	from := []geofile.Source{{Name: "-", Content: data}}
	for b.Loop() {
		if _, err := survey.Read(from, opts); err != nil {
			b.Fatal(err)
		}
	}
}
