package jobsheet

import (
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
	Air    handoff.Air
	Units  figures.Units
	Files  []string // names of all files of the hand-off
}

// row is a line of a table.
type row struct{ label, value string }

// row is a row with its label in the language.
func (s Sheet) row(label, value string) row { return row{s.Units.Text(label), value} }

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
	units           figures.Units
}

func (s Sheet) pages() (pages []page) {
	for _, j := range s.Result.Jobs {
		pages = append(pages, page{
			warning: s.warning(j), title: s.Units.Say("Spray job: %s", j.Field), subtitle: s.subtitle(j), banner: s.banner(j), says: s.says(j),
			ground: s.groundRows(j), work: s.workRows(j), places: s.placeRows(j), mix: s.mixRows(j), worked: s.workedRows(j), job: j, units: s.Units,
		})
	}
	return pages
}

func (s Sheet) subtitle(j *handoff.Job) string {
	u := s.Units
	parts := []string{report.Sentence(orElse(u.Language().Pest(j.Pest), u.Text("pest not named")))}
	if j.Date != "" {
		parts = append(parts, u.Say("counted %s", longDays(j.Date, u)))
	}
	if j.Threshold != "" {
		parts = append(parts, strings.TrimSpace(u.Say("spray at %s", j.Threshold+" "+eachUnit(j.Unit, u))))
	}
	return strings.Join(parts, " · ")
}

// warning says where the job is not what the map advised, or its ground not the map's.
func (s Sheet) warning(j *handoff.Job) string {
	u, says := s.Units, s.otherwise(j)
	if !j.Advice.Edited() {
		return says
	}
	if before := mapSays(j.Advice, u); says == "" && before != "" {
		says = u.Say("Before that the map said: %s.", before)
	}
	return strings.TrimSpace(u.Text("EDITED BY HAND: the red ground is not as the map drew it.") + " " + says)
}

// otherwise says where the job is not what the map advised.
func (s Sheet) otherwise(j *handoff.Job) string {
	u := s.Units
	switch a := j.Advice; {
	case j.Fallback:
		return u.Say("THE MAP SAYS: %s. This job is what it names if that cannot be done today.", mapSays(a, u))
	case a.Against():
		return u.Say("AGAINST THE MAP, which says: %s. This job was asked for all the same.", mapSays(a, u))
	case a.Whole() && !j.Covers():
		return u.Say("THE MAP SAYS: %s. This job covers only the red ground, %s of %s, as asked.",
			mapSays(a, u), u.Area(j.Ground.Treat), u.Area(j.Area))
	}
	return ""
}

// warningOnScreen is the same with the flag that plans otherwise.
func (s Sheet) warningOnScreen(j *handoff.Job) string {
	text := s.warning(j)
	if text != "" && !j.Advice.Against() {
		text += " " + s.Units.Text("Plan all of it with --whole-field.")
	}
	return text
}

// verdict is the map's, where the warning does not tell it.
func (s Sheet) verdict(j *handoff.Job) string {
	u := s.Units
	line := u.Say("The map says: %s.", mapSays(j.Advice, u))
	if !j.Advice.Known() {
		line = u.Text("What the map says is not known: the zones carry no verdict.")
	}
	if j.Covers() {
		line += " " + u.Text("This job covers the whole field.")
	} else if j.Advice.WholeDue {
		line += " " + u.Text(report.WholeDue)
	}
	return line
}

// mostKeepOffNotes bounds the notes on a page, so that it still is one.
const mostKeepOffNotes = 5

// mostDoubts bounds what may make the map's answer wrong on a page likewise.
const mostDoubts = 4

// doubts are these, in the language of the sheet.
func (s Sheet) doubts(j *handoff.Job) []string { return j.Doubts[s.Units.Language().String()] }

func (s Sheet) banner(j *handoff.Job) []string {
	u, d := s.Units, j.Days
	var lines []string
	notes := s.Result.KeepOffNotes
	for _, note := range notes[:min(len(notes), mostKeepOffNotes)] {
		lines = append(lines, u.Say("Keep-offs: %s", u.Language().Note(note)))
	}
	if more := len(notes) - mostKeepOffNotes; more > 0 {
		lines = append(lines, u.Say("Keep-offs: further notes: %d, in handoff.json: read them before spraying", more))
	}
	if s.warning(j) == "" {
		lines = append(lines, s.verdict(j))
	}
	if before := s.sprayedBefore(j); before != "" {
		lines = append(lines, before)
	}
	if said := s.doubts(j); len(said) > 0 {
		more := ""
		if over := len(said) - mostDoubts; over > 0 {
			said, more = said[:mostDoubts], " "+u.Say("%d more: in handoff.json.", over)
		}
		lines = append(lines, u.Text("Look out")+": "+strings.Join(said, " ")+more)
	}
	if n := j.Advice.NotRead; n != "" {
		line := u.Say("Not read: %s.", notReadIn(n, u))
		if !j.Covers() {
			line += " " + u.Text("What was counted there may make the red ground larger.")
		}
		lines = append(lines, line)
	}
	if j.Overlap != "" {
		lines = append(lines, u.Say("As drawn, %s.", j.Overlap))
	}
	return append(lines, s.goodFor(d), u.Say("Trust in the map: %s.", orElse(plainTrust(j.Trust, u), u.Text("the zones do not say"))))
}

// goodFor is until when the map is good, with the years, and the day planned.
func (s Sheet) goodFor(d handoff.Days) string {
	u := s.Units
	if d.GoodUntil == "" {
		return u.Text("Good until: ____________ (the zones do not say)")
	}
	line := u.Say("The map is good until %s", longDay(d.GoodUntil, u))
	if d.MapUntil != "" && d.MapUntil != d.GoodUntil {
		line += u.Say(" as asked, by the map itself until %s", longDay(d.MapUntil, u))
	}
	line += "."
	if d.SprayOn != "" {
		line += " " + u.Say("Planned for %s.", longDay(d.SprayOn, u))
	}
	if d.Late {
		line += " " + u.Text("TOO LATE, scout again.")
	}
	return line
}

func orElse(s, standIn string) string {
	if s == "" {
		return standIn
	}
	return s
}

// groundRows say what ground it is and what stays off.
func (s Sheet) groundRows(j *handoff.Job) []row {
	asked, grown := s.row("Red ground", s.Units.Area(j.Ground.Treat)), ""
	if j.Whole {
		asked = s.row("Whole field", asked.value)
	}
	if line := s.grownBy(j.Margin); line != "" && j.Ground.Grown-j.Ground.Treat > leastTold { // not of a whole field
		grown = ". " + strings.TrimSuffix(line, ".")
	}
	rows := []row{
		s.row("Field", fieldSays(j, s.Units)),
		{asked.label, asked.value + grown},
		s.row("To spray", s.Units.Area(j.Figures().Sprayed)),
		s.keepOffRow(j),
	}
	return append(append(rows, s.barRows(j)...), s.airRows(j)...)
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
		if b, ok := nearestBar(j, s.named); ok {
			text, _ := s.bar(b)
			if b.Kind == spray.Drawn { // it is kept off by its name
				return s.row("Nearest keep-off", s.Units.Say("%s; no set-back was given", text))
			}
			return s.row("Nearest keep-off", s.Units.Say("%s; no keep-off was named", text))
		}
		return s.row("Nearest keep-off", s.Units.Text("none named within 1 km"))
	}
	k := j.Ground.KeptOff[best]
	return s.row("Nearest keep-off", s.Units.Say("%s, %s off; set-back %s", keepOffName(k.Name, s.Units), s.Units.Length(k.Nearest), s.Units.Length(k.SetBack)))
}

// nearBar is within what distance of the spray ground other fields are told of, and
// that water has no set-back, m.
const nearBar = 100

// bar is a hole or gap of the field, or another field near by, with how near the spray
// ground comes; ok is false for one that is not told of.
func (s Sheet) bar(b spray.Bar) (text string, ok bool) {
	if b.Named || math.IsInf(b.Nearest, 1) || (b.Kind == spray.OtherField || b.Kind == spray.Drawn) && b.Nearest > nearBar {
		return "", false
	}
	return s.Units.Say("%s, %s off", barName(b, s.Units), s.Units.Length(b.Nearest)), true
}

// named tells closed ground that is near enough to be named.
func (s Sheet) named(b spray.Bar) bool {
	_, ok := s.bar(b)
	return ok
}

// mayBeWater tells holes, gaps and what was drawn from other fields.
func mayBeWater(b spray.Bar) bool { return b.Kind != spray.OtherField && !b.Named }

// nearestBar is the closed ground of some kind that the spray ground comes closest to.
func nearestBar(j *handoff.Job, kind func(spray.Bar) bool) (best spray.Bar, ok bool) {
	for _, b := range j.Ground.Bars {
		if kind(b) && !math.IsInf(b.Nearest, 1) && (!ok || b.Nearest < best.Nearest) {
			best, ok = b, true
		}
	}
	return best, ok
}

func barName(b spray.Bar, u figures.Units) string {
	switch {
	case b.Kind == spray.OtherField:
		return u.Say("field %s", b.Name)
	case b.Kind == spray.Drawn:
		return b.Name
	case b.Kind == spray.Hole && b.Count == 1:
		return u.Text("ground left out of the field (pond or the like)")
	case b.Kind == spray.Hole:
		return u.Say("%d places left out of the field (ponds or the like)", b.Count)
	case b.Count == 1:
		return u.Text("gap between parts of the field")
	}
	return u.Say("%d gaps between parts of the field", b.Count)
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
		if b, ok := nearestBar(j, mayBeWater); ok && b.Nearest <= nearBar {
			text += ". " + s.Units.Text("No set-back: where it is water, keep off as far as the label says")
		}
		rows = append(rows, s.row("Not field, kept off", text))
	}
	if a := j.Plan.Astride; a > 1 {
		rows = append(rows, s.row("Steer round", s.Units.Say("for %s the boom's middle would lie over ground that is not field", s.Units.Length(a))))
	}
	return rows
}

func (s Sheet) workRows(j *handoff.Job) []row {
	u, p := s.Units, j.Plan
	rows := []row{
		s.row("Passes", u.Say("%d of %s at %.1f° (%s)", len(p.Passes), u.Length(p.Settings.Swath), p.Heading, headingSays(p, u))),
		s.row("To drive", u.Way(p.On+p.Off)),
	}
	if n := p.Settings.Sections; n > 1 {
		rows = append(rows, s.row("Sections", u.Say("%d of %s", n, u.Length(p.Settings.Swath/float64(n)))))
	}
	if n := j.Points; n.After < n.Before {
		rows = append(rows, s.row("Points of outlines", pointsSay(n, u)))
	}
	if text := ratePointsSay(j, u); text != "" {
		rows = append(rows, s.row("Points of rates", text))
	}
	if p.Settings.Speed > 0 {
		rows = append(rows, s.row("Time", s.time(p)))
	}
	if lead := p.Settings.Lead(); lead > 0 {
		rows = append(rows, s.row("Switch early by", u.Say("%s (%s × %s s); the places of on and off are moved by it", u.Length(lead), u.Speed(p.Settings.Speed), u.Short(p.Settings.Lag))))
	}
	return rows
}

// How far from the rows, degrees, passes still go along or across them. Judgement.
const nearRows = 10

// headingSays is what the heading goes by, and how it lies to the rows.
func headingSays(p *spray.Plan, u figures.Units) string {
	by := map[spray.By]string{spray.Asked: u.Text("asked"), spray.FewestPasses: u.Text("fewest passes"), spray.LongestEdge: u.Text("along the longest edge")}[p.By]
	off, known := p.AcrossRows()
	rows := u.Text("how the rows run is not known")
	switch {
	case !known && p.By == spray.Asked:
		rows = ""
	case !known:
	case off <= nearRows:
		rows = u.Text("along the rows")
	case off >= 90-nearRows:
		rows = u.Text("ACROSS THE ROWS")
	default:
		rows = u.Say("%.0f° off the rows", off)
	}
	if by == "" || rows == "" {
		return by + rows
	}
	return by + "; " + rows
}

// pointsSay is how many points the outlines have now, and had before.
func pointsSay(n handoff.Points, u figures.Units) string {
	return u.Say("%s → %s; closed ground only grew", u.Short(float64(n.Before)), u.Short(float64(n.After)))
}

// ratePointsSay is the same of the file of the rates, "" where nothing was left out, with
// what that did to the carrier.
func ratePointsSay(j *handoff.Job, u figures.Units) string {
	if j.Fewer == nil || j.Fewer.Points.After >= j.Fewer.Points.Before {
		return ""
	}
	n := j.Fewer.Points
	return u.Say("%s → %s; its ground is %s of what whole sections spray", u.Short(float64(n.Before)), u.Short(float64(n.After)), u.Whole(shareOfSections(j)))
}

// shareOfSections is what the files of consoles spray as a share of what the sections do.
func shareOfSections(j *handoff.Job) float64 { return j.Figures().Sprayed / j.ByHand() }

// byHandSays is what is sprayed where it is not the console that switches, by its file; ""
// where that is the same.
func byHandSays(j *handoff.Job, u figures.Units) string {
	if math.Abs(j.ByHand()-j.Figures().Sprayed) < leastSpilled {
		return ""
	}
	return u.Say("A console switches by its file. Switched by hand, at the places of on and off, %s is sprayed: mix for that then.", u.Area(j.ByHand()))
}

// fieldSays is the ground of the field, and that of its outline where it is drawn with fewer
// points.
func fieldSays(j *handoff.Job, u figures.Units) string {
	if drawn := geo.Area(j.Ground.Field); math.Abs(drawn-j.Area) > leastTold {
		return u.Say("%s; as drawn here, with fewer points, %s", u.Area(j.Area), u.Area(drawn))
	}
	return u.Area(j.Area)
}

// rowsSay is what to look out for of the rows; "" where the passes go along them.
func rowsSay(p *spray.Plan, u figures.Units) string {
	off, known := p.AcrossRows()
	switch {
	case !known && p.By == spray.LongestEdge:
		return u.Text("How the rows run is not known: the passes follow the longest edge.")
	case !known && p.By == spray.FewestPasses:
		return u.Text("How the rows run is not known.")
	case !known || off <= nearRows:
		return ""
	case off >= 90-nearRows:
		return u.Text("The passes run across the rows.")
	}
	return u.Say("The passes run %.0f° off the rows.", off)
}

func (s Sheet) time(p *spray.Plan) string {
	u := s.Units
	text := u.Say("%s at %s", figures.Duration(p.Seconds), u.Speed(p.Settings.Speed))
	if p.Settings.TurnTime == 0 && p.Turns > 0 {
		text += u.Text(", turns driven straight")
	}
	return text + u.Text("; filling not in it")
}

// mixRows are the sums of what was typed in, and lines to fill for what was not.
func (s Sheet) mixRows(j *handoff.Job) []row { return s.mixOf(j.Figures().Sprayed) }

// mixOf are the same for an area in m².
func (s Sheet) mixOf(area float64) []row {
	u := s.Units
	var rows []row
	if s.Mix.Rate == nil {
		rows = append(rows, s.row("Carrier", u.Text("not given: ________ an acre or hectare")))
	} else {
		volume := spray.Carrier(area, s.Mix.Rate.Base)
		rows = append(rows, s.row("Carrier", u.Rate(s.Mix.Rate.Base)+": "+u.Volume(volume)))
		if s.Mix.Tank != nil {
			rows = append(rows, s.row("Tank loads", s.loads(spray.Loads(volume, s.Mix.Tank.Base))))
		}
	}
	if len(s.Mix.Products) == 0 {
		rows = append(rows, s.row("Product", u.Text("not given: ________________")))
	}
	for _, p := range s.Mix.Products {
		rows = append(rows, row{p.Name, s.product(p, area)})
	}
	return rows
}

// product tells the total, and what goes into each tank load.
func (s Sheet) product(p spray.Product, area float64) string {
	total := p.Total(area)
	text := s.Units.Say("%s %s/%s: %s %s in all", figures.Amount(p.Amount), p.Unit, p.Per, figures.Amount(total), p.Unit)
	if s.Mix.Rate == nil || s.Mix.Tank == nil {
		return text
	}
	if n := len(spray.Loads(spray.Carrier(area, s.Mix.Rate.Base), s.Mix.Tank.Base)); n > 1 {
		text += s.Units.Say("; %s %s in each load", figures.Amount(total/float64(n)), p.Unit)
	}
	return text
}

// loads writes "3 of 485 gal"; a dash where a tank is too small to be meant.
func (s Sheet) loads(all []float64) string { return s.loadsOf(all, s.Units.Number(len(all))) }

// loadsOf is the same with the number given.
func (s Sheet) loadsOf(all []float64, number string) string {
	if len(all) == 0 {
		return "–"
	}
	size, unit := 1.0, s.Mix.Tank.Unit
	if unit == "gal" {
		size = geo.LitresPerGallon
	}
	return s.Units.Say("%s of %s %s", number, s.Units.Short(all[0]/size), unit)
}

// labelBlanks are what the person fills in by hand off the label, [weatherBlanks] in the
// field.
func labelBlanks(u figures.Units) []string {
	return []string{u.Text("Product, registration no."), u.Text("Rate on the label"), u.Text("Re-entry interval"), u.Text("Pre-harvest interval"),
		u.Text("Buffer to water"), u.Text("Wind limit"), u.Text("Applicator"), u.Text("Licence no.")}
}

func weatherBlanks(u figures.Units) []string {
	return []string{u.Text("Time of day"), u.Text("Wind speed"), u.Text("Wind from"), u.Text("Gusts"), u.Text("Temperature"), u.Text("Humidity"), u.Text("Inversion?")}
}
