package fieldwork

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
	"text/tabwriter"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
)

// Curves are the operating characteristic and the average stop number of a plan.
type Curves struct {
	Tally
	Walk   sampling.Walk
	Points []sampling.Performance
}

// WriteText writes the table.
func (c Curves) WriteText(w io.Writer) error {
	var b strings.Builder
	b.WriteString(c.Head())
	fmt.Fprintf(&b, "  simulated: %d walks for each value, %s %s at a stop, clustering %s, seed %d\n\n",
		c.Walk.Runs, c.things(c.Walk.PerStop), c.plural(), figures.Short(c.Walk.Clustering), c.Walk.Seed)
	t := tabwriter.NewWriter(&b, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(t, "true value\tover\tunder\tno answer\tstops\t"+c.plural()+"\t")
	for _, p := range c.Points {
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%s\t\n", c.value(p.Value), figures.Percent(p.Over), figures.Percent(p.Under), figures.Percent(p.Undecided), figures.Trimmed(p.Stops, 1), figures.Trimmed(p.Units*float64(c.unit().Size), 0))
	}
	if err := t.Flush(); err != nil {
		return err
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// WriteCSV writes the table for a machine.
func (c Curves) WriteCSV(w io.Writer) error {
	rows := [][]string{{"value", "over", "under", "undecided", "stops", "units", "over_standard_error", "stops_standard_error"}}
	for _, p := range c.Points {
		var row []string
		for _, v := range []float64{p.Value, p.Over, p.Under, p.Undecided, p.Stops, p.Units, p.OverMargin, p.StopsMargin} {
			row = append(row, strconv.FormatFloat(v, 'g', 8, 64))
		}
		rows = append(rows, row)
	}
	return csv.NewWriter(w).WriteAll(rows)
}

// WriteSVG writes the picture: on the left the chance to be called over, on the
// right the mean number of stops.
func (c Curves) WriteSVG(w io.Writer) error {
	left := chart{title: "chance to be called over", across: c.axis(), high: 1, box: box{60, 40, 340, 260}, digits: figures.Percent}
	right := chart{title: "mean number of stops", across: c.axis(), box: box{480, 40, 340, 260}, digits: figures.Short}
	for _, p := range c.Points {
		left.add(p.Value, p.Over)
		right.add(p.Value, p.Stops)
	}
	if r, ok := c.Plan.Rule.(sampling.Wald); ok {
		left.marks, right.marks = []float64{r.Low, r.High}, []float64{r.Low, r.High}
	}
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 860 350" font-family="sans-serif" font-size="13">` + "\n")
	fmt.Fprintf(&b, "<title>%s</title>\n", escape(c.title()))
	b.WriteString(`<rect width="860" height="350" fill="#fff"/>` + "\n")
	left.draw(&b)
	right.draw(&b)
	b.WriteString("</svg>\n")
	_, err := io.WriteString(w, b.String())
	return err
}

func (c Curves) axis() string {
	if c.Share() {
		return "true share of " + c.units() + " (parts of 1)"
	}
	return "true mean per " + c.Plan.Unit
}
