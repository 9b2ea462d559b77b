package sampling

// A Plan is a rule with its origin.
type Plan struct {
	Name   string
	Pest   string
	Unit   string  // what is looked at
	AtOr   float64 // a unit counts from this many insects on; 0 for plans of counts
	Source string
	Rule   Rule
}

// Plans are the plans known by name, in the order in which they are shown.
func Plans() []Plan {
	return []Plan{
		{
			Name: "sorghum-tally-50", Pest: "sorghum aphid", Unit: "leaf", AtOr: 51,
			Source: "16 % of leaves above 50 stand for 40 per leaf (Texas tally-threshold study, J. Econ. Entomol., data of 2015–2018); " +
				"6 points to either side and error rates of 0.10 are our choice, no source",
			Rule: Wald{Distribution: Binomial, Low: 0.10, High: 0.22},
		},
		{
			Name: "wheat-tiller-giles", Pest: "greenbug", Unit: "tiller", AtOr: 1,
			Source: "Giles et al. 2003, J. Econ. Entomol. 96:975–982: minimum of 26 tillers; error rates of 0.10 are inferred from that minimum",
			Rule:   Wald{Distribution: Binomial, Low: 0.02, High: 0.10},
		},
	}
}

// PlanNamed finds a plan by its name.
func PlanNamed(name string) (Plan, bool) {
	for _, p := range Plans() {
		if p.Name == name {
			return p, true
		}
	}
	return Plan{}, false
}
