package cli

import "github.com/spf13/pflag"

// givenWords are the words of the flags that were given and are wanted, by their names, as they
// are typed: in the order of the help.
func givenWords(given *pflag.FlagSet, wanted func(name string) bool) (words []string) {
	given.VisitAll(func(f *pflag.Flag) {
		if !f.Changed || !wanted(f.Name) {
			return
		}
		switch list, several := f.Value.(pflag.SliceValue); {
		case several:
			for _, value := range list.GetSlice() {
				words = append(words, "--"+f.Name, value)
			}
		case f.Value.Type() == "bool":
			if words = append(words, "--"+f.Name); f.Value.String() != "true" {
				words[len(words)-1] += "=false"
			}
		default:
			words = append(words, "--"+f.Name, f.Value.String())
		}
	})
	return words
}
