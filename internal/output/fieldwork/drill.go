//go:build !small

package fieldwork

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/visible"
)

//go:embed drill.html
var drillPage string

// A Drill is a page to practise estimating on, without a connection: drawn leaves
// with known numbers of insects, from a series that its seed fixes. Zero fields
// mean the defaults.
type Drill struct {
	Seed    uint32
	Seconds float64       // of the first look; 4
	Most    int           // insects on a leaf; 500
	Units   figures.Units // of which the language counts
}

func (d Drill) withDefaults() Drill {
	if d.Seconds == 0 {
		d.Seconds = 4
	}
	if d.Most == 0 {
		d.Most = 500
	}
	return d
}

// Validate says what is wrong with a drill.
func (d Drill) Validate() error {
	d = d.withDefaults()
	switch {
	case !(d.Seconds >= 0.2 && d.Seconds <= 60):
		return fmt.Errorf("%v seconds to look: want 0.2 to 60", d.Seconds)
	case d.Most < 10 || d.Most > 1000:
		return fmt.Errorf("%d insects at most: want 10 to 1,000", d.Most)
	}
	return nil
}

// WriteHTML writes the page.
func (d Drill) WriteHTML(w io.Writer) error {
	t, err := template.New("drill").Funcs(template.FuncMap{"say": d.Units.Text, "language": d.Units.Language().String}).Parse(drillPage)
	if err != nil {
		return err
	}
	return t.Execute(&visible.Writer{To: w}, d.withDefaults())
}
