package jobsheet

import (
	"fmt"
	"math"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// A Sheet is everything that is handed over.
type Sheet struct {
	Result *handoff.Result
	Mix    handoff.Mix
	Units  figures.Units
	Files  []string // names of all files of the hand-off
}

// row is a line of a table.
type row struct{ label, value string }

// Label and Value are for the markup.
func (r row) Label() string { return r.label }

// Value is the other cell.
func (r row) Value() string { return r.value }

// page is what one field's page says.
type page struct {
	warning         string // above all else, where the job is not what the map advised
	title, subtitle string
	banner          []string // verdict, trust and dates
	says            []string // what is sprayed, in sentences
	ground, work    []row
	places          []row // gate or middle of the field, ends of the line
	mix             []row
	worked          []row // how the figures came to be
	job             *handoff.Job
}

func (s Sheet) pages() (pages []page) {
	for _, j := range s.Result.Jobs {
		pages = append(pages, page{
			warning: s.warning(j), title: "Spray job: " + j.Field, subtitle: s.subtitle(j), banner: s.banner(j), says: s.says(j),
			ground: s.groundRows(j), work: s.workRows(j), places: placeRows(j), mix: s.mixRows(j), worked: s.workedRows(j), job: j,
		})
	}
	return pages
}

func (s Sheet) subtitle(j *handoff.Job) string {
	parts := []string{report.Sentence(orElse(j.Pest, "pest not named"))}
	if j.Date != "" {
		parts = append(parts, "counted "+longDays(j.Date))
	}
	if j.Threshold != "" {
		parts = append(parts, strings.TrimSpace("spray at "+j.Threshold+" "+eachUnit(j.Unit)))
	}
	return strings.Join(parts, " · ")
}

// warning says where the job is not what the map advised, or its ground not the map's.
func (s Sheet) warning(j *handoff.Job) string {
	says := s.otherwise(j)
	if !j.Advice.Edited() {
		return says
	}
	if before := mapSays(j.Advice); says == "" && before != "" {
		says = "Before that the map said: " + before + "."
	}
	return strings.TrimSpace("EDITED BY HAND: the red ground is not as the map drew it. " + says)
}

// otherwise says where the job is not what the map advised.
func (s Sheet) otherwise(j *handoff.Job) string {
	switch a := j.Advice; {
	case j.Fallback:
		return fmt.Sprintf("THE MAP SAYS: %s. This job is what it names if that cannot be done today.", mapSays(a))
	case a.Against():
		return fmt.Sprintf("AGAINST THE MAP, which says: %s. This job was asked for all the same.", mapSays(a))
	case a.Whole() && !j.Covers():
		return fmt.Sprintf("THE MAP SAYS: %s. This job covers only the red ground, %s of %s, as asked.",
			mapSays(a), s.Units.Area(j.Ground.Treat), s.Units.Area(j.Area))
	}
	return ""
}

// warningOnScreen is the same with the flag that plans otherwise.
func (s Sheet) warningOnScreen(j *handoff.Job) string {
	text := s.warning(j)
	if text != "" && !j.Advice.Against() {
		text += " Plan all of it with --whole-field."
	}
	return text
}

// verdict is the map's, where the warning does not tell it.
func verdict(j *handoff.Job) string {
	line := "The map says: " + mapSays(j.Advice) + "."
	if !j.Advice.Known() {
		line = "What the map says is not known: the zones carry no verdict."
	}
	if j.Covers() {
		line += " This job covers the whole field."
	} else if j.Advice.WholeDue {
		line += " " + report.WholeDue
	}
	return line
}

// mostKeepOffNotes bounds the notes on a page, so that it still is one.
const mostKeepOffNotes = 5

func (s Sheet) banner(j *handoff.Job) []string {
	d := j.Days
	var lines []string
	notes := s.Result.KeepOffNotes
	for _, note := range notes[:min(len(notes), mostKeepOffNotes)] {
		lines = append(lines, "Keep-offs: "+note)
	}
	if more := len(notes) - mostKeepOffNotes; more > 0 {
		lines = append(lines, fmt.Sprintf("Keep-offs: further notes: %d, in handoff.json: read them before spraying", more))
	}
	if s.warning(j) == "" {
		lines = append(lines, verdict(j))
	}
	if n := j.Advice.NotRead; n != "" {
		line := "Not read: " + n
		if !j.Covers() {
			line += ". What was counted there may make the red ground larger"
		}
		lines = append(lines, line+".")
	}
	if j.Overlap != "" {
		lines = append(lines, "As drawn, "+j.Overlap+".")
	}
	if d.GoodUntil != "" {
		line := "The map is good until " + longDay(d.GoodUntil)
		if d.MapUntil != "" && d.MapUntil != d.GoodUntil {
			line += " as asked, by the map itself until " + longDay(d.MapUntil)
		}
		if d.SprayOn != "" {
			line += "; planned for " + longDay(d.SprayOn)
		}
		if d.Late {
			line += ": TOO LATE, scout again"
		}
		lines = append(lines, line+".")
	} else {
		lines = append(lines, "Good until: ____________ (the zones do not say)")
	}
	return append(lines, "Trust in the map: "+orElse(plainTrust(j.Trust), "the zones do not say")+".")
}

func orElse(s, standIn string) string {
	if s == "" {
		return standIn
	}
	return s
}

// groundRows say what ground it is and what stays off.
func (s Sheet) groundRows(j *handoff.Job) []row {
	asked, grown := "Red ground", ""
	if j.Whole {
		asked = "Whole field"
	}
	if line := s.grownBy(j.Margin); line != "" && j.Ground.Grown-j.Ground.Treat > leastTold { // not of a whole field
		grown = ". " + strings.TrimSuffix(line, ".")
	}
	rows := []row{
		{"Field", s.Units.Area(j.Area)},
		{asked, s.Units.Area(j.Ground.Treat) + grown},
		{"To spray", s.Units.Area(j.Figures().Sprayed)},
		s.keepOffRow(j),
	}
	return append(rows, s.barRows(j)...)
}

// keepOffRow names the keep-off that the spray ground comes closest to, and its
// set-back.
func (s Sheet) keepOffRow(j *handoff.Job) row {
	best := -1
	for i, k := range j.Ground.KeptOff {
		if best < 0 || k.Nearest < j.Ground.KeptOff[best].Nearest {
			best = i
		}
	}
	if best < 0 || math.IsInf(j.Ground.KeptOff[best].Nearest, 1) {
		if b, ok := nearestWater(j); ok {
			text, _ := s.bar(b)
			return row{"Nearest keep-off", text + "; no other was named"}
		}
		return row{"Nearest keep-off", "none named within 1 km"}
	}
	k := j.Ground.KeptOff[best]
	return row{"Nearest keep-off", fmt.Sprintf("%s, %s off; set-back %s", k.Name, s.Units.Length(k.Nearest), s.Units.Length(k.SetBack))}
}

// nearBar is within what distance of the spray ground other fields are told of, and
// that water has no set-back, m.
const nearBar = 100

// bar is a hole or gap of the field, or another field near by, with how near the spray
// ground comes; ok is false for one that is not told of.
func (s Sheet) bar(b spray.Bar) (text string, ok bool) {
	if math.IsInf(b.Nearest, 1) || (b.Kind == spray.OtherField || b.Kind == spray.Drawn) && b.Nearest > nearBar {
		return "", false
	}
	return barName(b) + ", " + s.Units.Length(b.Nearest) + " off", true
}

// nearestWater is the hole or gap that the spray ground comes closest to.
func nearestWater(j *handoff.Job) (best spray.Bar, ok bool) {
	for _, b := range j.Ground.Bars {
		if b.Kind != spray.OtherField && !math.IsInf(b.Nearest, 1) && (!ok || b.Nearest < best.Nearest) {
			best, ok = b, true
		}
	}
	return best, ok
}

func barName(b spray.Bar) string {
	switch {
	case b.Kind == spray.OtherField:
		return "field " + b.Name
	case b.Kind == spray.Drawn:
		return b.Name
	case b.Kind == spray.Hole && b.Count == 1:
		return "ground left out of the field (pond or the like)"
	case b.Kind == spray.Hole:
		return fmt.Sprintf("%d places left out of the field (ponds or the like)", b.Count)
	case b.Count == 1:
		return "gap between parts of the field"
	}
	return fmt.Sprintf("%d gaps between parts of the field", b.Count)
}

// barRows name the closed ground that nobody gave as keep-off. It has no set-back.
func (s Sheet) barRows(j *handoff.Job) (rows []row) {
	var texts []string
	for _, b := range j.Ground.Bars {
		if text, ok := s.bar(b); ok {
			texts = append(texts, text)
		}
	}
	if len(texts) > 0 {
		text := strings.Join(texts, "; ")
		if b, ok := nearestWater(j); ok && b.Nearest <= nearBar {
			text += ". No set-back: where it is water, keep off as far as the label says"
		}
		rows = append(rows, row{"Not field, kept off", text})
	}
	if a := j.Plan.Astride; a > 1 {
		rows = append(rows, row{"Steer round", fmt.Sprintf("for %s the boom's middle would lie over ground that is not field", s.Units.Length(a))})
	}
	return rows
}

func (s Sheet) workRows(j *handoff.Job) []row {
	u, p := s.Units, j.Plan
	rows := []row{
		{"Passes", fmt.Sprintf("%d of %s at %.1f° (%s)", len(p.Passes), u.Length(p.Settings.Swath), p.Heading, headingSays(p))},
		{"To drive", u.Way(p.On + p.Off)},
	}
	if n := p.Settings.Sections; n > 1 {
		rows = append(rows, row{"Sections", fmt.Sprintf("%d of %s", n, u.Length(p.Settings.Swath/float64(n)))})
	}
	if n := j.Points; n.After < n.Before {
		rows = append(rows, row{"Points of outlines", pointsSay(n)})
	}
	if p.Settings.Speed > 0 {
		rows = append(rows, row{"Time", s.time(p)})
	}
	if lead := p.Settings.Lead(); lead > 0 {
		rows = append(rows, row{"Switch early by", fmt.Sprintf("%s (%s × %s s); the places of on and off are moved by it", u.Length(lead), u.Speed(p.Settings.Speed), figures.Short(p.Settings.Lag))})
	}
	return rows
}

// How far from the rows, degrees, passes still go along or across them. Judgement.
const nearRows = 10

// headingSays is what the heading goes by, and how it lies to the rows.
func headingSays(p *spray.Plan) string {
	by := map[spray.By]string{spray.Asked: "asked", spray.FewestPasses: "fewest passes", spray.LongestEdge: "along the longest edge", spray.Rows: ""}[p.By]
	off, known := p.AcrossRows()
	rows := "; how the rows run is not known"
	switch {
	case !known:
	case off <= nearRows:
		rows = "; along the rows"
	case off >= 90-nearRows:
		rows = "; ACROSS THE ROWS"
	default:
		rows = fmt.Sprintf("; %.0f° off the rows", off)
	}
	return strings.TrimPrefix(by+rows, "; ")
}

// pointsSay is how many points the outlines have now, and had before.
func pointsSay(n handoff.Points) string {
	count := func(n int) string { return figures.Short(float64(n)) }
	return count(n.Before) + " → " + count(n.After) + ". No closed ground is sprayed for it"
}

// rowsSay is what to look out for of the rows; "" where the passes go along them.
func rowsSay(p *spray.Plan) string {
	off, known := p.AcrossRows()
	switch {
	case !known && p.By == spray.LongestEdge:
		return "How the rows run is not known: the passes follow the longest edge."
	case !known:
		return "How the rows run is not known."
	case off <= nearRows:
		return ""
	case off >= 90-nearRows:
		return "The passes run across the rows."
	}
	return fmt.Sprintf("The passes run %.0f° off the rows.", off)
}

func (s Sheet) time(p *spray.Plan) string {
	text := fmt.Sprintf("%s at %s", figures.Duration(p.Seconds), s.Units.Speed(p.Settings.Speed))
	if p.Settings.TurnTime == 0 && p.Turns > 0 {
		text += ", turns driven straight"
	}
	return text + "; filling not in it"
}

// mixRows are the sums of what was typed in, and lines to fill for what was not.
func (s Sheet) mixRows(j *handoff.Job) []row { return s.mixOf(j.Figures().Sprayed) }

// mixOf are the same for an area in m².
func (s Sheet) mixOf(area float64) []row {
	u := s.Units
	var rows []row
	if s.Mix.Rate == nil {
		rows = append(rows, row{"Carrier", "not given: ________ an acre or hectare"})
	} else {
		volume := spray.Carrier(area, s.Mix.Rate.Base)
		rows = append(rows, row{"Carrier", u.Rate(s.Mix.Rate.Base) + ": " + u.Volume(volume)})
		if s.Mix.Tank != nil {
			rows = append(rows, row{"Tank loads", loads(spray.Loads(volume, s.Mix.Tank.Base), s.Mix.Tank.Unit)})
		}
	}
	if len(s.Mix.Products) == 0 {
		rows = append(rows, row{"Product", "not given: ________________"})
	}
	for _, p := range s.Mix.Products {
		rows = append(rows, row{p.Name, s.product(p, area)})
	}
	return rows
}

// product tells the total, and what goes into each tank load.
func (s Sheet) product(p spray.Product, area float64) string {
	total := p.Total(area)
	text := fmt.Sprintf("%s %s/%s: %s %s in all", figures.Amount(p.Amount), p.Unit, p.Per, figures.Amount(total), p.Unit)
	if s.Mix.Rate == nil || s.Mix.Tank == nil {
		return text
	}
	if n := len(spray.Loads(spray.Carrier(area, s.Mix.Rate.Base), s.Mix.Tank.Base)); n > 1 {
		text += fmt.Sprintf("; %s %s in each load", figures.Amount(total/float64(n)), p.Unit)
	}
	return text
}

// loads writes "3 of 485 gal"; a dash where a tank is too small to be meant.
func loads(all []float64, unit string) string {
	if len(all) == 0 {
		return "–"
	}
	size := 1.0
	if unit == "gal" {
		size = geo.LitresPerGallon
	}
	return fmt.Sprintf("%s of %s %s", figures.Short(float64(len(all))), figures.Amount(all[0]/size), unit)
}

// blanks are what the person fills in by hand, off the label and in the field.
var (
	labelBlanks   = [...]string{"Product, registration no.", "Rate on the label", "Re-entry interval", "Pre-harvest interval", "Buffer to water", "Wind limit", "Applicator", "Licence no."}
	weatherBlanks = [...]string{"Time", "Wind speed", "Wind from", "Gusts", "Temperature", "Humidity", "Inversion?"}
)
