package cli

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/files/folder"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// appliedOptions are the settings of the record command.
type appliedOptions struct {
	handoff.Applied
	area     string
	products []string
	ground   string
	quiet    bool
}

func newRecord(s Streams) *cobra.Command {
	var o appliedOptions
	cmd := &cobra.Command{
		Use:   "record FOLDER --date DAY --field NAME --area AREA --product NAME=AMOUNT --who NAME",
		Short: "Record what was applied, beside the map: one JSON file and one line of a table",
		Long: `record writes down what was applied as you enter it: nothing is worked out or filled
in. It goes into the folder of the map: a JSON file of its own for each record, and
a line of applied.csv for the file of two years. A record that is there already is
refused. With --ground the ground goes beside it, dated, for geocoris compare.

For a US private applicator and a restricted-use product the record is due within
14 days and kept for 2 years, spot sprays too; your own rules may ask for more.`,
		Example: `  geocoris record out --date 2026-07-17 --field Pivot --area 31.9ac \
    --product "product A=95.8 lb" --carrier 479gal --wind "5 mph from SW" \
    --who "the applicator" --licence 0000 --ground job/swaths.geojson`,
		Args: usageArgs(cobra.ExactArgs(1)),
	}
	f := cmd.Flags()
	f.SortFlags = false
	f.Var(day{&o.Date}, "date", "`day` of the application, such as 2026-07-17 or \"17 July 2026\" (required)")
	f.StringVar(&o.Field, "field", "", "`name` of the field (required)")
	f.StringVar(&o.area, "area", "", "`area` treated, such as 12.9ha or 31.9ac (required)")
	f.StringArrayVar(&o.products, "product", nil, "`NAME=AMOUNT` used, a registration number in brackets behind the name; may be given several times (required)")
	f.StringVar(&o.Who, "who", "", "`name` of who applied (required)")
	f.StringVar(&o.Licence, "licence", "", "`number` of the licence")
	f.StringVar(&o.Carrier, "carrier", "", "`volume` of carrier, as entered")
	f.StringVar(&o.Start, "start", "", "`time` of the first spray")
	f.StringVar(&o.End, "end", "", "`time` of the last spray")
	f.StringVar(&o.Wind, "wind", "", "`speed` and direction, as entered")
	f.StringVar(&o.Weather, "weather", "", "temperature, humidity, as entered")
	f.StringVar(&o.Notes, "notes", "", "anything else")
	f.StringVar(&o.ground, "ground", "", "`FILE` of the ground that was sprayed, such as swaths.geojson of the hand-off, kept for compare --treated")
	f.BoolVar(&o.quiet, "quiet", false, "print nothing but errors")
	cmd.RunE = func(_ *cobra.Command, args []string) error {
		if err := o.settle(); err != nil {
			return usageError{err}
		}
		return runRecord(s, args[0], o)
	}
	return cmd
}

func appliedArea() *regexp.Regexp { return regexp.MustCompile(`^\s*([0-9]*\.?[0-9]+)\s*(ha|ac)\s*$`) }

// settle takes the flags to the record.
func (o *appliedOptions) settle() error {
	m := appliedArea().FindStringSubmatch(strings.ToLower(o.area))
	if m == nil {
		return fmt.Errorf("--area %q: want a number with ha or ac, such as 31.9ac", o.area)
	}
	v, err := strconv.ParseFloat(m[1], 64)
	if err != nil {
		return fmt.Errorf("--area %q: %w", o.area, err)
	}
	o.Area, o.AreaUnit = v, m[2]
	o.Products = nil
	for _, text := range o.products {
		name, amount, ok := strings.Cut(text, "=")
		if !ok {
			return fmt.Errorf("--product %q: want NAME=AMOUNT, such as \"product A=95.8 lb\"", text)
		}
		d := handoff.Dose{Product: strings.TrimSpace(name), Amount: strings.TrimSpace(amount)}
		if i := strings.LastIndex(d.Product, "("); i > 0 && strings.HasSuffix(d.Product, ")") {
			d.Product, d.Number = strings.TrimSpace(d.Product[:i]), d.Product[i+1:len(d.Product)-1]
		}
		o.Products = append(o.Products, d)
	}
	return o.Validate()
}

const appliedTable = "applied.csv"

func runRecord(s Streams, path string, o appliedOptions) error {
	if err := folder.Check(path); err != nil {
		return err
	}
	if _, err := os.Stat(path); err != nil {
		return hintedError{fmt.Errorf("%s is no folder", path), "give the folder of the map that the record belongs to"}
	}
	if err := settled(s, path); err != nil {
		return err
	}
	if err := o.against(path); err != nil {
		return usageError{err}
	}
	var ground []byte
	if o.ground != "" {
		var err error
		if ground, err = o.sprayedGround(); err != nil {
			return err
		}
	}
	var name string
	err := s.writer().Update(s.context(), path, func() (folder.Change, error) {
		files, err := o.files(path, ground)
		if err == nil {
			name = files[0].Name
		}
		return folder.Change{Files: files}, err
	})
	if err != nil {
		return err
	}
	if !o.quiet {
		farDay(s, "date", o.Date)
		fmt.Fprintf(s.Out, "%s: %s, and a line of %s\n", path, name, appliedTable)
	}
	return nil
}

// files are those of the record, beside what the folder holds now; the table is last.
func (o appliedOptions) files(path string, ground []byte) ([]folder.Output, error) {
	table, err := os.ReadFile(filepath.Join(path, appliedTable))
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return nil, err
	}
	if table, err = o.AppendCSV(table); err != nil {
		return nil, err
	}
	var record bytes.Buffer
	if err := o.WriteJSON(&record); err != nil {
		return nil, err
	}
	stem := freeStem(path, "applied_"+o.Date+"_"+plainName(o.Field))
	files := []folder.Output{{Name: stem + ".json", Content: record.Bytes()}}
	if ground != nil {
		files = append(files, folder.Output{Name: stem + ".geojson", Content: ground})
	}
	return append(files, folder.Output{Name: appliedTable, Content: table}), nil
}

// sprayedGround is the ground that was named, as features of the record.
func (o appliedOptions) sprayedGround() ([]byte, error) {
	c, err := geofile.Read(o.ground, geofile.Limits{})
	if err != nil {
		return nil, err
	}
	features, err := o.Ground(c.Features)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", c.Name, err)
	}
	var b bytes.Buffer
	err = geofile.WriteGeoJSON(&b, geofile.FeatureCollection{Features: features})
	return b.Bytes(), err
}

// plainName keeps what any file system takes.
func plainName(s string) string {
	return strings.Trim(regexp.MustCompile(`[^\pL\pN]+`).ReplaceAllString(s, "-"), "-")
}

// freeStem begins names that are not taken: a field may be sprayed twice a day.
func freeStem(path, stem string) string {
	free := stem
	for n := 2; ; n++ {
		if folder.CheckNew(path, []string{free + ".json", free + ".geojson"}) == nil {
			return free
		}
		free = fmt.Sprintf("%s_%d", stem, n)
	}
}
