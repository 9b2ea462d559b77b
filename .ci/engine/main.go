// Command engine holds all that the engine does and nothing else: built for WebAssembly,
// its size is what a page has to load.
package main

import "github.com/geocoris/geocoris/internal/engine"

// does keeps the linker from leaving anything out.
var does = []any{
	engine.Calibrate, engine.Check, engine.Compare, engine.AddToSeason, engine.Demo, engine.Drill, engine.ExportSeason, engine.Handoff, engine.Key, engine.ListSeason, engine.Map,
	engine.MidgeThreshold, engine.NewTally, engine.Plan, engine.Record, engine.Report, engine.Rules, engine.ShowVisit,
	engine.TallyCard, engine.TallyCounts, engine.TallyCurves, engine.Template, engine.Threshold, engine.VisitOf,
	(*engine.Tally).Enter, (*engine.CalibrateOutcome).Files,
}

func main() { println(len(does)) }
