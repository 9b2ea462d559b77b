package engine

import "fmt"

// An AboveZero is a setting that wants a number above 0, where 0 is what stands where nothing
// is asked for: who types a 0 would be given another value without a word.
type AboveZero struct {
	Name  string // as the flag is called
	Want  string
	value *float64
}

// Refuse is the error of a setting that was given as 0; nil of any other value.
func (z AboveZero) Refuse() error {
	if *z.value != 0 {
		return nil
	}
	return fmt.Errorf("%s 0: want %s, or leave it out", z.Name, z.Want)
}

// AboveZero are those of map, in the order of its flags.
func (o *Settings) AboveZero() []AboveZero {
	const days = "days above 0"
	return []AboveZero{
		{"treat-at", "a level above 0", &o.TreatAt}, {"watch-at", "a level above 0", &o.WatchAt},
		{"next-visit", days, &o.NextVisit}, {"doubling", days, &o.Doubling}, {"tally", "a count of 1 or more", &o.Tally},
		{"treat-chance", "a chance above 0, to 1", &o.TreatChance}, {"watch-chance", "a chance above 0, to 1", &o.WatchChance}, {"catch", "a share above 0, below 1", &o.Catch},
		{"cost", "a cost above 0", &o.Cost}, {"price", "a price above 0", &o.Price}, {"loss", "a loss above 0", &o.Loss},
		{"control", "a part above 0, to 1", &o.Control}, {"spot-control", "a part above 0, to 1", &o.SpotControl}, {"heads", "a number above 0", &o.Heads},
		{"power", "a power above 0", &o.Power}, {"radius", "metres above 0", &o.Radius}, {"cell", "metres above 0", &o.Cell}, {"track-gap", "minutes above 0", &o.TrackGap},
	}
}

// AboveZero are those of tally, by numbers.
func (o *TallySettings) AboveZero() []AboveZero {
	return []AboveZero{
		{"around", "a part above 0, below 1", &o.Around}, {"low", "a value above 0", &o.Low}, {"high", "a value above 0", &o.High}, {"k", "a number above 0", &o.K},
		{"alpha", "a chance above 0, below a half", &o.Alpha}, {"beta", "a chance above 0, below a half", &o.Beta}, {"tally", "a count of 1 or more", &o.At},
		{"precision", "a part above 0", &o.Precision}, {"area", "a number above 0", &o.Area}, {"stop-price", "a number above 0", &o.StopPrice},
	}
}
