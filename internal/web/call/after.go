package call

import (
	"context"
	"fmt"

	"github.com/geocoris/geocoris/internal/engine"
)

// afterSettings are those of map, and what weighs a stop.
type afterSettings struct {
	engine.Settings
	Only      string      `json:"only"`
	StopPrice float64     `json:"stop-price"`
	Hectares  float64     `json:"area"`
	Last      *[2]float64 `json:"last"`
}

type afterFacts struct {
	Field  string       `json:"field"`
	Stops  int          `json:"stops"` // planned ones
	Least  int          `json:"least"` // before any answer
	State  string       `json:"state"` // keep_going or enough
	More   *int         `json:"more"`  // stops that are worth their walk, about; nil where that is not known
	Says   []string     `json:"says"`
	Answer *answerFacts `json:"answer"` // as it stands, where there are enough
	Next   *nextFacts   `json:"next"`   // nil is the next planned one
}

type nextFacts struct {
	At      [2]float64 `json:"at"`
	Walk    float64    `json:"walk_m"`
	Bearing float64    `json:"bearing"` // degrees from north clockwise
	Extra   bool       `json:"extra"`   // the field's mean goes without it
}

func after(ctx context.Context, r request) (any, []engine.File, error) {
	o := afterSettings{Settings: engine.Defaults()}
	if err := r.settings(&o); err != nil {
		return nil, nil, err
	}
	q := engine.AfterRequest{Samples: r.all(Counts), Only: o.Only, StopPrice: o.StopPrice, Area: o.Hectares, Last: o.Last}
	var err error
	if q.Setup, err = r.setup(o.Settings); err != nil {
		return nil, nil, err
	}
	if q.Boundary, err = r.one(Boundary); err != nil {
		return nil, nil, err
	}
	if len(q.Samples) == 0 {
		return nil, nil, fmt.Errorf("%s: no file of %s came along", r.Do, Counts)
	}
	made, err := engine.After(ctx, q)
	if err != nil {
		return nil, nil, err
	}
	facts := afterFacts{Field: made.Field.Name, Stops: made.Stops, Least: made.Least, State: "keep_going", Says: made.Says}
	if made.More > 0 {
		facts.More = &made.More
	}
	if made.Enough {
		facts.State = "enough"
	}
	for i := range made.Verdicts {
		if answer, ok := answerOf(&engine.MapOutcome{Result: made.Result, Verdicts: made.Verdicts}, i, o.Settings); ok {
			facts.Answer = &answer
		}
	}
	if n := made.Next; n != nil {
		facts.Next = &nextFacts{n.At, rounded(n.Walk, 1), rounded(n.Bearing, 1), n.Extra}
	}
	return facts, nil, nil
}
