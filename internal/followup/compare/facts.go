package compare

import (
	"github.com/geocoris/geocoris/internal/followup/paired"
	"github.com/geocoris/geocoris/internal/mapping/assess"
)

// What a comparison has to tell stands as facts; the words for them are a higher floor's.

// A Difference is in what two visits are not alike, besides the pest.
type Difference uint8

// The differences, and which values of [Unlike] they fill.
const (
	Observers   Difference = iota + 1 // Before, After, Uncalibrated
	LeafRules                         // Before, After
	Stages                            // Before, After
	LevelPairs                        // of the visits themselves
	CutKinds                          // the zones of one visit go by chance, of the other by counts
	CutValues                         // BeforeN, AfterN: where treat ground is cut
	Effort                            // BeforeN, AfterN: median of units at a stop
	StopNumbers                       // BeforeN, AfterN
)

// Unlike is where like is not compared with like.
type Unlike struct {
	In              Difference
	Before, After   string // what the stops tell, sorted, each once; "" where they tell nothing
	BeforeN, AfterN float64
	Uncalibrated    []string // observers without a calibration; "" for rows that name none
}

// A Remark is what has to be said of a field besides its figures.
type Remark uint8

// The remarks, and which values of [Note] they fill.
const (
	SeveralDays       Remark = iota + 1 // Date: the visit has stops of other days too
	TreatedFor                          // Days for which ground counts as treated
	NoCountAfter                        // Treatment: no count in its ground came after it
	NoForecast                          // no growth is known
	FarForecast                         // Days ahead, more than Of
	CutsDiffer                          // Date: zones of the last visit go by chance, those of the forecast do not
	ForecastUnsure                      // the growth does not stand out from the noise
	OutsideElsewhere                    // Treatment, N stops outside lie in ground of others and are no check
	ExtraStops                          // Date: N of the visit's stops were marked as extra and are not in its mean
	InsideAlsoTreated                   // Treatment, N of Of stops inside lie in ground of others too
	StandTogether                       // Date, Stop and Together: stops that nobody marked are not in the visit's mean
)

// A Note is a remark with its values.
type Note struct {
	On        Remark
	Date      string
	Treatment Treatment
	Days      float64
	N, Of     int
	Stop      string
	Together  *assess.Together
}

// A Cause is why to go back by a day.
type Cause uint8

// The causes.
const (
	UsualVisit   Cause = iota // the usual days after the last visit
	Colonies                  // of pests that settle
	QuickGrowth               // at the quick end a further part of the ground may reach the level
	SecondLook                // Treated: a treatment wants another look
	MapGoodUntil              // the map of the last visit is good until then
	MapLook                   // the map of the last visit asks for the next look then
)

// A Reason is why to go back by a day.
type Reason struct {
	Cause   Cause
	Days    int     // of the usual visit, or where colonies are
	Share   float64 // of the ground that may reach the level
	Treated string  // day of the treatment
	Unsure  bool    // no growth is known after a treatment, so the day rests on the cause alone
}

// A Gap is why efficacy is not known.
type Gap uint8

// The gaps.
const (
	NotYet           Gap = iota + 1 // no visit after the treatment
	NoneInside                      // no stops in the treated ground since, though elsewhere
	NoneBefore                      // no stop in untreated ground, and nobody counted before
	NoCheck                         // no stop in untreated ground: Percent and Interval are of inside alone
	NoCheckNorInside                // the same, and Err says why inside alone tells nothing
	TooFewStops                     // Err says how many there are
	NotComputable                   // Err says why
)

// NoEfficacy is why efficacy is not known, and what is.
type NoEfficacy struct {
	Gap      Gap
	Percent  float64 // less than before
	Interval paired.Interval
	Err      error
}

// LeftOut is a field with too few visits to compare.
type LeftOut struct {
	Field  string
	Visits int // 0 or 1
}
