package cli

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/internal/mapping/rules"
)

func newRulesCompute(s Streams) *cobra.Command {
	var e rules.Economics
	var eil, doubling float64
	cmd := &cobra.Command{
		Use:   "compute",
		Short: "Compute a threshold from costs, prices and losses, and show the arithmetic",
		Long: `compute gives the economic injury level, the density whose averted loss pays the
control, and the economic threshold, the density that grows to it before control
works:

  EIL = C/(V·b·K)      C cost of control on an area, V price for each unit of yield,
                       b yield lost on that area for each pest per unit counted on,
                       K the part of the loss that control averts
  ET  = EIL·e^(−r·L)   r growth a day, L lead time in days

Money and area may be in any units, as long as they are the same throughout.

For headworms and other caterpillars in the grain heads of sorghum no published
injury level is at hand here: the figures of their example below are invented. Take
the loss for each larva from your local extension service.`,
		Example: `  # 12 an acre, 4 for a bushel, 0.02 bushels an acre for each aphid per leaf
  geocoris rules compute --cost 12 --price 4 --loss 0.02 --control 0.9 --doubling 4.2 --lead 5

  # a published injury level taken back by three days
  geocoris rules compute --eil 137 --growth 0.222 --lead 3

  # larvae per head, all invented: 9 an acre, 6.25 for 100 lb, and with 40,000 heads an
  # acre at 0.006 lb for each larva 2.4 times 100 lb; control averts 80 %
  geocoris rules compute --cost 9 --price 6.25 --loss 2.4 --control 0.8

  # sorghum midge: $5 an acre, $6 for 100 lb, 18,000 flowering heads an acre
  geocoris rules compute midge --cost 5 --price 6 --heads 18000`,
		Args: usageArgs(cobra.NoArgs),
	}
	f := cmd.Flags()
	f.Float64Var(&e.Cost, "cost", 0, "C: of control on an area")
	f.Float64Var(&e.Price, "price", 0, "V: of the crop, for each unit of yield")
	f.Float64Var(&e.Loss, "loss", 0, "b: yield lost on the area for each pest per unit counted on")
	f.Float64Var(&e.Control, "control", 1, "K: part of the loss that control averts")
	f.Float64Var(&eil, "eil", 0, "an injury level that is known, in place of cost, price and loss")
	f.Float64Var(&e.Growth, "growth", 0, "r: of the pest, a day")
	f.Float64Var(&doubling, "doubling", 0, "`days` in which the pest doubles, in place of --growth")
	f.Float64Var(&e.Lead, "lead", 0, "L: `days` until control works")
	f.SortFlags = false
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		t, err := computed(e, eil, doubling)
		if err != nil {
			return usageError{err}
		}
		return writeThreshold(s.Out, t)
	}
	cmd.AddCommand(newRulesMidge(s))
	return cmd
}

// computed is a threshold by what was given.
func computed(e rules.Economics, eil, doubling float64) (rules.Threshold, error) {
	if doubling != 0 {
		if e.Growth != 0 || !(doubling > 0) {
			return rules.Threshold{}, fmt.Errorf("doubling in %g days: want a number above 0, and no --growth beside it", doubling)
		}
		e.Growth = rules.DailyGrowth(doubling)
	}
	if eil != 0 {
		if e.Cost != 0 || e.Price != 0 || e.Loss != 0 {
			return rules.Threshold{}, fmt.Errorf("--eil stands in place of --cost, --price and --loss")
		}
		return rules.Lead{EIL: eil, Growth: e.Growth, Days: e.Lead}.Compute()
	}
	return e.Compute()
}

func newRulesMidge(s Streams) *cobra.Command {
	var m rules.Midge
	cmd := &cobra.Command{
		Use:   "midge",
		Short: "Sorghum midges per flowering head at which control pays",
		Long: `midge gives sorghum midges per flowering head: 33,256·C/(V·F), C cost of control
in $ an acre, V price of the grain in $ for 100 lb, F flowering heads an acre
(Knutson & Cronholm 2007, Southwest. Entomol. 32:75–85).`,
		Example: `  geocoris rules compute midge --cost 5 --price 6 --heads 18000`,
		Args:    usageArgs(cobra.NoArgs),
		RunE: func(cmd *cobra.Command, _ []string) error {
			t, err := m.Compute()
			if err != nil {
				return usageError{err}
			}
			return writeThreshold(s.Out, t)
		},
	}
	cmd.Flags().Float64Var(&m.Cost, "cost", 0, "C: of control, $ an acre")
	cmd.Flags().Float64Var(&m.Price, "price", 0, "V: of the grain, $ for 100 lb")
	cmd.Flags().Float64Var(&m.Heads, "heads", 0, "F: flowering heads an acre")
	return cmd
}

func writeThreshold(w io.Writer, t rules.Threshold) error {
	var b strings.Builder
	for _, step := range t.Steps {
		fmt.Fprintln(&b, step)
	}
	fmt.Fprintf(&b, "computed from what was given, not published; %s\n", rules.Caution)
	_, err := io.WriteString(w, b.String())
	return err
}
