package engine

import (
	"errors"
	"fmt"
	"math"

	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/rules"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
)

// TallySettings are those of tally, called as its flags are: by which plan to count.
type TallySettings struct {
	Plan   string // by its name
	Rule   string // a plan round the threshold of a rule, by its name
	Stage  string // growth stage for the rule
	Around float64

	Counts      string // poisson or negative-binomial; "" for a plan on shares
	Low, High   float64
	K           float64 // of the negative binomial
	Alpha, Beta float64
	At          float64 // for shares: a leaf counts from this many insects on
	Taylor      []float64
	Precision   float64 // standard error as part of the mean
	Given       string  // how the values of a plan of one's own came, for its source

	Unit, Pest  string
	Least, Most int     // stops
	Planned     int     // stops of the whole walk, where its first ones are not spread over the field
	Area        float64 // hectares of the field, 0 where not given
	OnField     bool    // a boundary is given, which tells the area
	StopPrice   float64 // of one more stop, as part of treating a hectare
	Independent bool
	Language    vocabulary.Language // of the answers and the card
}

// mostStopsUsual are those of the usual walk. Our choice, no source.
const mostStopsUsual = 40

// TallyDefaults are the settings where nothing is asked for.
func TallyDefaults() TallySettings {
	return TallySettings{Around: 1.0 / 3, Alpha: 0.10, Beta: 0.10, Precision: 0.25, Unit: "leaf", Most: mostStopsUsual, Given: "values given"}
}

// plan is the plan asked for, by name or by values.
func (o TallySettings) plan() (sampling.Plan, error) {
	if err := o.walk(); err != nil {
		return sampling.Plan{}, err
	}
	if o.Plan != "" && o.Rule != "" {
		return sampling.Plan{}, errors.New("--plan and --rule are two plans: give one")
	}
	if o.Plan != "" {
		p, ok := sampling.PlanNamed(o.Plan)
		if !ok {
			return p, fmt.Errorf("no plan is called %q; --plans lists them", o.Plan)
		}
		return p, nil
	}
	if o.Rule != "" {
		return o.byRule()
	}
	p := sampling.Plan{Name: "of your own", Pest: o.Pest, Unit: o.Unit, AtOr: o.At, Source: o.Given}
	wald := sampling.Wald{Low: o.Low, High: o.High, K: o.K, Alpha: o.Alpha, Beta: o.Beta}
	switch {
	case len(o.Taylor) == 2:
		p.Rule, p.AtOr = sampling.Green{Taylor: sampling.Taylor{A: o.Taylor[0], B: o.Taylor[1]}, D: o.Precision}, 0
		return p, p.Rule.Validate()
	case len(o.Taylor) > 0:
		return p, errors.New("--taylor wants two numbers, such as 2.586,1.511")
	case o.Low == 0 && o.High == 0:
		return p, errors.New("no plan: give --plan NAME, or --rule NAME, or --low and --high, or --taylor a,b")
	case o.Counts == "poisson":
		wald.Distribution, p.AtOr = sampling.Poisson, 0
	case o.Counts == "negative-binomial":
		wald.Distribution, p.AtOr = sampling.NegativeBinomial, 0
	case o.Counts != "":
		return p, fmt.Errorf("--counts %s: want poisson or negative-binomial", o.Counts)
	}
	p.Rule = wald
	return p, wald.Validate()
}

// byRule is a plan with its values to either side of a rule's threshold. Rules
// give none of their own, so how far to either side is said to be a choice.
func (o TallySettings) byRule() (sampling.Plan, error) {
	var p sampling.Plan
	book, err := RuleBook(nil)
	if err != nil {
		return p, err
	}
	rule, err := book.Named(o.Rule)
	if err != nil {
		return p, err
	}
	level, err := rule.At(o.Stage)
	if err != nil {
		return p, err
	}
	if !(o.Around > 0 && o.Around < 1) {
		return p, fmt.Errorf("--around %v: want a part of the threshold, such as 0.33", o.Around)
	}
	p = sampling.Plan{
		Name: rule.Name, Pest: rule.Pest, Unit: rule.Unit, AtOr: level.Band.Tally,
		Source: fmt.Sprintf("%s; %.0f %% to either side and error rates are a choice, no source", level.Source(), 100*o.Around),
	}
	wald := sampling.Wald{Alpha: o.Alpha, Beta: o.Beta, K: o.K}
	value := level.Treat
	switch {
	case rule.Statistic == rules.Share:
		value /= 100
	case o.Counts == "poisson":
		wald.Distribution = sampling.Poisson
	case o.K > 0:
		wald.Distribution = sampling.NegativeBinomial
	default:
		return p, errors.New("the rule is about a mean: give --k of the negative binomial, or --counts poisson")
	}
	wald.Low, wald.High = tidy(value*(1-o.Around)), tidy(value*(1+o.Around))
	p.Rule = wald
	return p, wald.Validate()
}

// tidy drops what rounding leaves behind the sixth figure.
func tidy(v float64) float64 {
	scale := math.Pow(10, 6-math.Ceil(math.Log10(v)))
	return math.Round(v*scale) / scale
}

// mostStops is how many stops a walk may have, for each of which there is a line of the
// card. Judgement, no source.
const mostStops = 10_000

// walk refuses a walk, or a price of its stops, that cannot be meant. Each setting is
// called as its flag is.
func (o TallySettings) walk() error {
	for _, s := range []struct {
		name  string
		value float64
		want  string
	}{{"area", o.Area, "hectares above 0"}, {"stop-price", o.StopPrice, "a price above 0, as part of treating a hectare"}} {
		if !(s.value >= 0) || math.IsInf(s.value, 0) {
			return fmt.Errorf("--%s %v: want %s", s.name, s.value, s.want)
		}
	}
	for _, s := range []struct {
		name  string
		stops int
	}{{"least", o.Least}, {"most", o.Most}, {"planned", o.Planned}} {
		if s.stops > mostStops {
			return fmt.Errorf("--%s %d: want %d stops at the most", s.name, s.stops, mostStops)
		}
	}
	least := sampling.LeastStops(o.Independent)
	if o.Least != 0 {
		if o.Least < least {
			return fmt.Errorf("--least %d: want %d stops or more", o.Least, least)
		}
		least = o.Least
	}
	switch {
	case o.Most < max(least, o.Planned) && o.Most != mostStopsUsual, o.Most < 1:
		return fmt.Errorf("--most %d: want %d stops or more, as no answer comes before", o.Most, max(least, o.Planned))
	case o.Planned < 0:
		return fmt.Errorf("--planned %d: want the number of stops of the whole walk", o.Planned)
	case o.Planned > 0 && o.Planned < least:
		return fmt.Errorf("--planned %d is below --least %d: no answer comes before the least, so plan as many stops or more", o.Planned, least)
	case o.Area > 0 && o.StopPrice == 0:
		return errors.New("--area without --stop-price: give both, to be told how many more stops are worth their walk")
	case o.StopPrice > 0 && o.Area == 0 && !o.OnField:
		return errors.New("--stop-price without --area or --field: give both, to be told how many more stops are worth their walk")
	}
	return nil
}

// stops say when they suffice.
func (o TallySettings) stops() sampling.Settings {
	return sampling.Settings{Least: o.Least, Most: o.Most, Planned: o.Planned, Area: o.Area, Price: o.StopPrice, Independent: o.Independent}
}
