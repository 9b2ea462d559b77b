package cli

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// A flagGroup is flags that stand together in help, under a title.
type flagGroup struct {
	title string
	names []string
}

// ofMap are the groups of the settings of map.
func ofMap() []flagGroup {
	return []flagGroup{
		{"Common", strings.Fields("field out rule stage treat-at unit write units language details settings")},
		{"Fields", strings.Fields("only part fields by-grower name-property inner")},
		{"Counts", strings.Fields("pest places track-gap corrections observers unnamed-stops one-visit columns map schema utm utc-offset date-order fix")},
		{"Levels and costs", strings.Fields("watch-at next-visit doubling tally rules spray-in cost spot-job price loss control spot-control heads stop-cost per")},
		{"Surface and zones", strings.Fields("surface treat-chance watch-chance catch power neighbors plain radius tune cell margin min-area simplify")},
		{"Output", strings.Fields("strict force jobs resume json quiet")},
	}
}

// ofCompare are those of compare.
func ofCompare() []flagGroup {
	return slices.Insert(ofMap(), 1, flagGroup{"Comparing", strings.Fields("treated treated-on forecast without dates match-within match-by-name seed cells")})
}

// ofSeasonAdd are those of season add.
func ofSeasonAdd() []flagGroup {
	return slices.Insert(ofMap(), 1, flagGroup{"Season", strings.Fields("author replace replace-visit treated treated-on")})
}

// ofHandoff are those of handoff.
func ofHandoff() []flagGroup {
	return []flagGroup{
		{"Common", strings.Fields("swath out rate tank product sections keep-off only units language details settings")},
		{"Which ground", strings.Fields("red-only whole-field fallback against-verdict trust-edited spray-on good-for growth margin stop-error sprayer-error")},
		{"Boom and driving", strings.Fields("rows heading fewest-passes gate speed lag min-length bridge turn overrun")},
		{"Machine files", strings.Fields("iso-version guidance grid grid-type customer farm max-points height drift")},
		{"Output", strings.Fields("force json quiet")},
	}
}

// ofPlan are those of plan.
func ofPlan() []flagGroup {
	return []flagGroup{
		{"Common", strings.Fields("field out stops only all rule stage phone language")},
		{"How many stops", strings.Fields("precision taylor expect after add")},
		{"Where", strings.Fields("edge inside keep-off heading order start one-way seed")},
		{"Table and times", strings.Fields("leaves pest rules speed minutes")},
		{"Boundary and files", strings.Fields("name-property inner force")},
	}
}

// otherFlags is the title of flags that no group names.
const otherFlags = "Other"

// grouped shows the flags of a command in groups.
func grouped(cmd *cobra.Command, groups []flagGroup) {
	cmd.SetUsageFunc(func(c *cobra.Command) error {
		var b strings.Builder
		fmt.Fprintf(&b, "Usage:\n  %s\n", c.UseLine())
		if c.HasExample() {
			fmt.Fprintf(&b, "\nExamples:\n%s\n", c.Example)
		}
		for _, g := range flagsIn(c, groups) {
			fmt.Fprintf(&b, "\n%s:\n%s\n", g.title, strings.TrimRight(g.usage, " \n"))
		}
		_, err := fmt.Fprint(c.OutOrStderr(), b.String())
		return err
	})
}

type flagUsage struct{ title, usage string }

// flagsIn are the usages of the flags of a command by their groups, in the order of these;
// those that no group names come last.
func flagsIn(c *cobra.Command, groups []flagGroup) (all []flagUsage) {
	named := map[string]bool{}
	add := func(title string, flags *pflag.FlagSet) {
		if usage := flags.FlagUsages(); usage != "" {
			all = append(all, flagUsage{title, usage})
		}
	}
	for _, g := range groups {
		set := newGroup(g.title)
		for _, name := range g.names {
			if f := c.LocalFlags().Lookup(name); f != nil {
				named[name] = true
				set.AddFlag(f)
			}
		}
		add(g.title, set)
	}
	rest := newGroup(otherFlags)
	c.LocalFlags().VisitAll(func(f *pflag.Flag) {
		if !named[f.Name] {
			rest.AddFlag(f)
		}
	})
	add(otherFlags, rest)
	return all
}

func newGroup(title string) *pflag.FlagSet {
	set := pflag.NewFlagSet(title, pflag.ContinueOnError)
	set.SortFlags = false
	return set
}
