package cli

import "github.com/spf13/pflag"

// taylorFlag is --taylor. Its list of none would stand in the help as a default.
func taylorFlag(f *pflag.FlagSet, to *[]float64, usage string) {
	f.Float64SliceVar(to, "taylor", nil, usage)
	f.Lookup("taylor").DefValue = ""
}
