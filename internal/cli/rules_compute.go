package cli

import (
	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/output/report"
)

func newRulesCompute(s Streams) *cobra.Command {
	var q engine.ThresholdRequest
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
injury level is at hand here, thresholds alone (rule sorghum-headworm): the figures of
their example below are invented. Take the loss for each larva from your local
extension service.`,
		Example: `  # 12 an acre, 4 for a bushel, 0.02 bushels an acre for each aphid per leaf
  geocoris rules compute --cost 12 --price 4 --loss 0.02 --control 0.9 --doubling 4.2 --lead 5

  # a published injury level taken back by three days
  geocoris rules compute --eil 137 --growth 0.222 --lead 3

  # larvae per head, all invented: 9 an acre, 6.25 for 100 lb, and with 40,000 heads an
  # acre at 0.006 lb for each larva 2.4 times 100 lb; control averts 80 %
  geocoris rules compute --cost 9 --price 6.25 --loss 2.4 --control 0.8

  # sorghum midge: $5 an acre, $6 for 100 lb, 18,000 flowering heads an acre
  geocoris rules compute midge --cost 5 --price 6 --heads 18000`,
		Args: takes(0, 0),
	}
	f := cmd.Flags()
	f.Float64Var(&q.Cost, "cost", 0, "C: of control on an area")
	f.Float64Var(&q.Price, "price", 0, "V: of the crop, for each unit of yield")
	f.Float64Var(&q.Loss, "loss", 0, "b: yield lost on the area for each pest per unit counted on")
	f.Float64Var(&q.Control, "control", 1, "K: part of the loss that control averts")
	f.Float64Var(&q.EIL, "eil", 0, "an injury level that is known, in place of cost, price and loss")
	f.Float64Var(&q.Growth, "growth", 0, "r: of the pest, a day")
	f.Float64Var(&q.Doubling, "doubling", 0, "`days` in which the pest doubles, in place of --growth")
	f.Float64Var(&q.Lead, "lead", 0, "L: `days` until control works")
	f.SortFlags = false
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		t, err := engine.Threshold(q)
		if err != nil {
			return err
		}
		return report.WriteThreshold(s.Out, t)
	}
	cmd.AddCommand(newRulesMidge(s))
	return cmd
}

func newRulesMidge(s Streams) *cobra.Command {
	var q engine.MidgeRequest
	cmd := &cobra.Command{
		Use:   "midge",
		Short: "Sorghum midges per flowering head at which control pays",
		Long: `midge gives sorghum midges per flowering head: 33,256·C/(V·F), C cost of control
in $ an acre, V price of the grain in $ for 100 lb, F flowering heads an acre
(Knutson & Cronholm 2007, Southwest. Entomol. 32:75–85).`,
		Example: `  geocoris rules compute midge --cost 5 --price 6 --heads 18000`,
		Args:    takes(0, 0),
		RunE: func(cmd *cobra.Command, _ []string) error {
			t, err := engine.MidgeThreshold(q)
			if err != nil {
				return err
			}
			return report.WriteThreshold(s.Out, t)
		},
	}
	cmd.Flags().Float64Var(&q.Cost, "cost", 0, "C: of control, $ an acre")
	cmd.Flags().Float64Var(&q.Price, "price", 0, "V: of the grain, $ for 100 lb")
	cmd.Flags().Float64Var(&q.Heads, "heads", 0, "F: flowering heads an acre")
	return cmd
}
