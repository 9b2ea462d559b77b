package handoff

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/files/spreadsheet"
)

// Applied is what was applied, as the person entered it: nothing is worked out or
// filled in. It is kept for the file that the law may ask for and for comparing
// the field before and after.
type Applied struct {
	Date     string  `json:"date"` // YYYY-MM-DD
	Start    string  `json:"start"`
	End      string  `json:"end"`
	Field    string  `json:"field"`
	Area     float64 `json:"area"`
	AreaUnit string  `json:"area_unit"` // ha or ac
	Products []Dose  `json:"products"`
	Carrier  string  `json:"carrier"`
	Wind     string  `json:"wind"`
	Weather  string  `json:"weather"`
	Who      string  `json:"who"`
	Licence  string  `json:"licence"`
	Notes    string  `json:"notes"`
}

// Dose is a product and how much of it was used, as entered.
type Dose struct {
	Product string `json:"product"`
	Amount  string `json:"amount"`
	Number  string `json:"registration"` // "" where not entered
}

func (d Dose) validate() error {
	if d.Product == "" || d.Amount == "" {
		return errors.New("a product needs its name and the amount used")
	}
	number := leadingNumber().FindString(strings.Replace(d.Amount, "\u2212", "-", 1)) // as programs write a minus
	if v, err := strconv.ParseFloat(strings.Replace(number, ",", ".", 1), 64); err == nil && v <= 0 {
		return fmt.Errorf("the amount of %s, %s: want one above 0", d.Product, d.Amount)
	}
	return nil
}

// leadingNumber is the number that an amount begins with.
func leadingNumber() *regexp.Regexp { return regexp.MustCompile(`^[-+]?[0-9]*[.,]?[0-9]+`) }

// What else a record must tell.
var (
	ErrNoField = errors.New("the field is missing")
	ErrNoWho   = errors.New("who applied is missing")
)

// Validate refuses a record that would be of no use: what, where, when, how much
// and who must be told.
func (a Applied) Validate() error {
	if _, err := time.Parse(day, a.Date); err != nil {
		return fmt.Errorf("date %q: want YYYY-MM-DD", a.Date)
	}
	if !(a.Area > 0) || math.IsInf(a.Area, 0) || a.AreaUnit != "ha" && a.AreaUnit != "ac" {
		return errors.New("the area: want a number above 0 with ha or ac")
	}
	if len(a.Products) == 0 {
		return errors.New("no product: want NAME=AMOUNT")
	}
	for _, d := range a.Products {
		if err := d.validate(); err != nil {
			return err
		}
	}
	if a.Field == "" {
		return ErrNoField
	}
	if a.Who == "" {
		return ErrNoWho
	}
	return nil
}

// GroundSprayedOn begins the name of ground of a record that is kept off; the day follows.
const GroundSprayedOn = "ground sprayed on "

// recordedDay is the day on which a feature was sprayed, YYYY-MM-DD, where it is ground of a
// record; else "".
func recordedDay(f geo.Feature) string {
	if word(f.Properties, "field") == "" || word(f.Properties, "zone") != "" {
		return ""
	}
	return dayOf(word(f.Properties, "date"))
}

// doses are the products in one line.
func (a Applied) doses() string {
	var doses []string
	for _, d := range a.Products {
		doses = append(doses, strings.TrimSpace(d.Product+" "+d.Number)+": "+d.Amount)
	}
	return strings.Join(doses, "; ")
}

// WriteJSON writes one record.
func (a Applied) WriteJSON(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	return e.Encode(a)
}

// appliedColumns are those of the table of records.
var appliedColumns = [...]string{"date", "start", "end", "field", "area", "area_unit", "products", "carrier", "wind", "weather", "who", "licence", "notes"}

// ErrRecorded is that a record was entered twice.
var ErrRecorded = errors.New("this record stands in the table already")

// AppendCSV returns a table of records with one more line; an empty table gets its
// header first. A table with another header is an error, and so is a line that
// stands in it already ([ErrRecorded]).
func (a Applied) AppendCSV(table []byte) ([]byte, error) {
	header := strings.Join(appliedColumns[:], ",")
	text := string(table)
	if strings.TrimSpace(text) == "" {
		text = header + "\n"
	}
	if first, _, _ := strings.Cut(text, "\n"); strings.TrimRight(first, "\r") != header {
		return nil, fmt.Errorf("the table of records has other columns: want %s", header)
	}
	if !strings.HasSuffix(text, "\n") {
		text += "\n"
	}
	var line strings.Builder
	w := csv.NewWriter(&line)
	if err := w.Write(spreadsheet.Row(a.cells()...)); err != nil {
		return nil, err
	}
	w.Flush()
	if strings.Contains("\n"+text, "\n"+line.String()) {
		return nil, ErrRecorded
	}
	return []byte(text + line.String()), nil
}

func (a Applied) cells() []string {
	return []string{a.Date, a.Start, a.End, a.Field, fmt.Sprint(a.Area), a.AreaUnit, a.doses(), a.Carrier, a.Wind, a.Weather, a.Who, a.Licence, a.Notes}
}
