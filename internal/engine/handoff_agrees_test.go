//go:build !small

package engine_test

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
)

// shoelace is the ground in m² of a ring in degrees, by the radii of curvature of WGS 84
// at the demo's field: M·N·cos φ. Over its 800 m that is right to 5 parts in 100,000.
func shoelace(ring [][2]float64) float64 {
	const a, e2, phi = 6378137.0, 0.00669437999014, 35.8985 * math.Pi / 180
	w := 1 - e2*math.Sin(phi)*math.Sin(phi)
	m, n := a*(1-e2)/math.Pow(w, 1.5), a/math.Sqrt(w)
	sum := 0.0
	for i := range len(ring) - 1 {
		x0, y0, x1, y1 := ring[i][0]+101.602, ring[i][1]-35.8985, ring[i+1][0]+101.602, ring[i+1][1]-35.8985
		sum += (x0*y1 - x1*y0) / 2
	}
	return math.Abs(sum) * m * n * math.Cos(phi) * math.Pow(math.Pi/180, 2)
}

func groundOf(polygons [][][][2]float64) (sum float64) {
	for _, polygon := range polygons {
		for i, ring := range polygon {
			if i == 0 {
				sum += shoelace(ring)
			} else {
				sum -= shoelace(ring)
			}
		}
	}
	return sum
}

// drawnGround is what a GeoJSON file of a job draws.
type drawnGround struct {
	Features []struct {
		Properties struct {
			Kind string   `json:"kind"`
			Area *float64 `json:"area_ha"`
			Rate float64  `json:"rate"`
		}
		Geometry struct {
			Coordinates json.RawMessage
		}
	}
}

// drawnIn is the ground of each kind in a file, and holds it against what its features say.
func drawnIn(t *testing.T, files []engine.File, name string) (of map[string]float64, volume float64) {
	t.Helper()
	of = map[string]float64{}
	for _, f := range files {
		if f.Name != name {
			continue
		}
		var drawn drawnGround
		require.NoError(t, json.Unmarshal(f.Content, &drawn))
		for _, one := range drawn.Features {
			var polygons [][][][2]float64
			require.NoError(t, json.Unmarshal(one.Geometry.Coordinates, &polygons))
			area := groundOf(polygons)
			of[one.Properties.Kind] += area
			volume += one.Properties.Rate * area / 1e4
			if one.Properties.Area != nil {
				assert.InDelta(t, *one.Properties.Area*1e4, area, 2+2e-4*area, "%s says of %s", name, one.Properties.Kind)
			}
		}
	}
	return of, volume
}

// taskGround is what the task data of a job outline, and the cells that they switch on.
func taskGround(t *testing.T, packed []byte) (field, says, treat, cells float64) {
	t.Helper()
	type lines []struct {
		A      int `xml:"A,attr"`
		Points []struct {
			Lat float64 `xml:"C,attr"`
			Lon float64 `xml:"D,attr"`
		} `xml:"PNT"`
	}
	type plane []struct {
		Lines lines `xml:"LSG"`
	}
	var task struct {
		Fields []struct {
			Area  float64 `xml:"D,attr"`
			Areas plane   `xml:"PLN"`
		} `xml:"PFD"`
		Tasks []struct {
			Zones []struct {
				Areas plane `xml:"PLN"`
			} `xml:"TZN"`
			Grid *struct {
				North float64 `xml:"C,attr"`
				East  float64 `xml:"D,attr"`
			} `xml:"GRD"`
		} `xml:"TSK"`
	}
	z, err := zip.NewReader(bytes.NewReader(packed), int64(len(packed)))
	require.NoError(t, err)
	read := func(suffix string) (content []byte) {
		for _, f := range z.File {
			if strings.HasSuffix(f.Name, suffix) {
				r, err := f.Open()
				require.NoError(t, err)
				content, err = io.ReadAll(r)
				require.NoError(t, err)
			}
		}
		return content
	}
	require.NoError(t, xml.Unmarshal(read(".XML"), &task))
	ground := func(all plane) (sum float64) {
		for _, p := range all {
			for _, line := range p.Lines {
				var ring [][2]float64
				for _, at := range line.Points {
					ring = append(ring, [2]float64{at.Lon, at.Lat})
				}
				sum += map[int]float64{1: 1, 2: -1}[line.A] * shoelace(ring)
			}
		}
		return sum
	}
	require.Len(t, task.Fields, 1)
	field, says = ground(task.Fields[0].Areas), task.Fields[0].Area
	for _, zone := range task.Tasks[0].Zones {
		treat += ground(zone.Areas)
	}
	if g := task.Tasks[0].Grid; g != nil {
		on := bytes.Count(read(".bin"), []byte{1})
		cells = float64(on) * shoelace([][2]float64{{0, 0}, {g.East, 0}, {g.East, g.North}, {0, g.North}, {0, 0}})
	}
	return field, says, treat, cells
}

// One folder holds one job: what its files draw, measured here anew, is what the sheet, the
// carrier and the task data say, whatever was asked for.
func TestAFolderHoldsOneJob(t *testing.T) {
	near := func(t *testing.T, want, got float64, what string) {
		t.Helper()
		assert.InDelta(t, want, got, 3+3e-4*want, what)
	}
	for name, asked := range map[string]string{
		"swaths":           `{}`,
		"narrow sections":  `{"sections": 6, "margin": "10m"}`,
		"cells":            `{"grid": "10m"}`,
		"large cells":      `{"grid": "60m", "sections": 6}`,
		"a field of cells": `{"grid": "15m", "sections": 6, "whole-field": true, "overrun": "0m"}`,
		"few points":       `{"max-points": 100, "sections": 6, "margin": "10m"}`,
		"a simple field":   `{"max-points": 200, "whole-field": true}`,
		"cells that fit":   `{"max-points": 1000, "grid": "20m"}`,
	} {
		t.Run(name, func(t *testing.T) {
			q := job(t)
			q.Settings.Only = []string{"Pivot"}
			require.NoError(t, json.Unmarshal([]byte(asked), &q.Settings))
			cell, most := q.Settings.Grid.Typed != nil, q.Settings.MaxPoints
			made, err := engine.Handoff(q)
			require.NoError(t, err)
			var says struct {
				Typed struct {
					Volume float64 `json:"volume_l"`
				} `json:"typed_in"`
				Jobs []struct {
					Ground     float64 `json:"ground_m2"`
					Treatable  float64 `json:"treatable_m2"`
					Sprayed    float64 `json:"sprayed_m2"`
					ByHand     float64 `json:"by_hand_m2"`
					OutOfField float64 `json:"out_of_field_m2"`
					Left       float64 `json:"left_m2"`
					Passes     int     `json:"passes"`
				}
			}
			require.NoError(t, json.Unmarshal(content(t, made.Files, "handoff.json"), &says))
			job := says.Jobs[0]
			ground, _ := drawnIn(t, made.Files, "ground.geojson")
			swaths, _ := drawnIn(t, made.Files, "swaths.geojson")
			left, _ := drawnIn(t, made.Files, "left_out.geojson")
			outline, _ := drawnIn(t, made.Files, "boundary.geojson")
			rates, volume := drawnIn(t, made.Files, "rate_gal_ac.geojson")
			near(t, job.Ground, ground["ground"], "spray ground")
			near(t, job.Sprayed, swaths["swath"], "swaths")
			near(t, job.Sprayed, rates["treat"], "ground of the rate")
			near(t, job.Left, left["left"], "left out")
			near(t, job.Ground-job.Treatable, left["left"], "what cannot be treated")
			// 1 gal/ac is 9.353956 L/ha.
			near(t, says.Typed.Volume, volume*9.353956, "carrier, L")
			field, fieldSays, treat, cells := taskGround(t, content(t, made.Files, "TASKDATA.zip"))
			near(t, outline["field"], field, "outline of the task data")
			near(t, fieldSays, field, "area of the task data")
			switch {
			case cell:
				near(t, job.Sprayed, cells, "cells that are on")
			case most > 0: // drawn as the rates are, up to the field's edge
				near(t, job.Sprayed-job.OutOfField, treat, "treatment zone")
			default:
				near(t, job.Treatable, treat, "treatment zone")
			}
			if !cell && most == 0 {
				assert.InDelta(t, job.Sprayed, job.ByHand, 0.01)
			}
			table, err := csv.NewReader(bytes.NewReader(content(t, made.Files, "passes.csv"))).ReadAll()
			require.NoError(t, err)
			passes := map[int]bool{}
			for _, row := range table[1:] {
				n, err := strconv.Atoi(strings.TrimRight(row[1], "abcdefghij"))
				require.NoError(t, err)
				passes[n] = true
			}
			assert.Len(t, passes, job.Passes)
		})
	}
}
