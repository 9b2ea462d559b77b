package cli

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// filesOnce makes flags of one file refuse a second one, in a command and all below it: of
// two the first would be dropped, and with it, say, half of the fields.
func filesOnce(cmd *cobra.Command) {
	cmd.Flags().VisitAll(func(f *pflag.Flag) {
		if what, _ := pflag.UnquoteUsage(f); what == "FILE" && f.Value.Type() == "string" {
			f.Value = &fileOnce{Value: f.Value, flag: f.Name}
		}
	})
	for _, below := range cmd.Commands() {
		filesOnce(below)
	}
}

// fileOnce is a flag of one file. The same file given again is one file.
type fileOnce struct {
	pflag.Value
	flag  string
	given bool
}

// givenTwice is a flag of one file that was given two.
type givenTwice struct{ flag, first, second string }

func (e givenTwice) Error() string {
	return fmt.Sprintf("--%s was given twice, %s and %s", e.flag, e.first, e.second)
}

// hint says how two files are given as one.
func (e givenTwice) hint() string {
	switch e.flag {
	case "field":
		return "put the outlines into one file"
	case "treated", "ground":
		return "put the ground of both into one file"
	}
	return "it takes one file; put what both hold into one"
}

func (o *fileOnce) Set(text string) error {
	if before := o.String(); o.given && before != text {
		return givenTwice{o.flag, before, text}
	}
	o.given = true
	return o.Value.Set(text)
}

// twice is a value that was refused as one of two; ok is false for any other error.
func twice(err error) (refused error, ok bool) {
	var two givenTwice
	if !errors.As(err, &two) {
		return nil, false
	}
	return hintedError{two, two.hint()}, true
}
