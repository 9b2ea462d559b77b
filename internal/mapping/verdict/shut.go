package verdict

import "github.com/geocoris/geocoris/internal/mapping/assess"

// InShut is the name of the line that decides where a stop at the spray level was set aside,
// as it lies in what was left out of the field.
const InShut = "in-what-was-left-out"

// Beside is the judge who is told what was left out of the fields: a pond, a yard, a hole.
func (j Judge) Beside(at assess.ShutAt) Judge {
	j.shut = at
	return j
}

// placesFirst names stops from the watch level on that lie in what was left out of the field,
// and makes the verdict undecided where one is at the spray level: the outline or the place
// may be wrong, and nothing else says which. Where the whole field is to be sprayed, that stays.
func (v *Verdict) placesFirst(f *assess.Field, r *assess.Result, at assess.ShutAt, s Settings) {
	v.Shut = r.ShutIn(f, v.Watch, at)
	if len(v.Shut) == 0 || v.Shut[0].Value < v.Treat || v.Kind == Undecided || v.Kind == TreatWhole {
		return
	}
	v.Without, v.Instead = v.Kind, v.Kind
	v.Kind, v.Line = Undecided, InShut
	v.Days = v.beforeOver(soon(v.Figures, s))
	v.Why = "a stop at the spray level lies in what was left out of the field"
	v.Says, v.Where, v.Round, v.Fill, v.More = "", "", nil, false, 0
}
