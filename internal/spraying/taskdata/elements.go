package taskdata

import (
	"encoding/xml"
	"strconv"

	"github.com/paulmach/orb"
)

// The elements, attributes called by their letters. Those that a version does
// not know are left empty and then not written.

type root struct {
	XMLName      xml.Name `xml:"ISO11783_TaskData"`
	Major        int      `xml:"VersionMajor,attr"`
	Minor        int      `xml:"VersionMinor,attr"`
	Manufacturer string   `xml:"ManagementSoftwareManufacturer,attr"`
	Software     string   `xml:"ManagementSoftwareVersion,attr"`
	Origin       int      `xml:"DataTransferOrigin,attr"`
	Customers    []ctr    `xml:"CTR"`
	Farms        []frm    `xml:"FRM"`
	Products     []pdt    `xml:"PDT"`
	Values       []vpn    `xml:"VPN"`
	Fields       []pfd    `xml:"PFD"`
	Tasks        []tsk    `xml:"TSK"`
}

type ctr struct {
	A string `xml:"A,attr"`
	B string `xml:"B,attr"`
}

type frm struct {
	A string `xml:"A,attr"`
	B string `xml:"B,attr"`
	I string `xml:"I,attr"` // customer
}

type pdt struct {
	A string `xml:"A,attr"`
	B string `xml:"B,attr"`
}

// vpn tells how a value is shown: (value + B) · C with D decimals and the unit E.
type vpn struct {
	A string `xml:"A,attr"`
	B int    `xml:"B,attr"`
	C string `xml:"C,attr"`
	D int    `xml:"D,attr"`
	E string `xml:"E,attr"`
}

type pfd struct {
	A     string `xml:"A,attr"`
	C     string `xml:"C,attr"` // name
	D     uint32 `xml:"D,attr"` // m²
	E     string `xml:"E,attr"` // customer
	F     string `xml:"F,attr"` // farm
	Areas []pln  `xml:"PLN"`
	Lines []ggp  `xml:"GGP"` // version 4 alone
}

// ggp is a group of guidance lines, gpn one of them.
type ggp struct {
	A        string `xml:"A,attr"`
	B        string `xml:"B,attr"`
	Patterns []gpn  `xml:"GPN"`
}

type gpn struct {
	A    string `xml:"A,attr"`
	B    string `xml:"B,attr"`
	C    int    `xml:"C,attr"` // 1 A–B
	E    int    `xml:"E,attr"` // 1 passes on both sides of the line
	F    int    `xml:"F,attr"` // 1 the line goes on beyond A and B
	Line lsg    `xml:"LSG"`
}

type pln struct {
	A     int    `xml:"A,attr"`           // 1 boundary, 2 treatment zone
	C     uint32 `xml:"C,attr,omitempty"` // m²
	Lines []lsg  `xml:"LSG"`
}

type lsg struct {
	A      int   `xml:"A,attr"` // 1 exterior, 2 interior, 5 guidance
	Points []pnt `xml:"PNT"`
}

type pnt struct {
	A int    `xml:"A,attr"` // 2 other, 6 and 7 guidance A and B
	C string `xml:"C,attr"` // latitude
	D string `xml:"D,attr"` // longitude
}

type tsk struct {
	A     string `xml:"A,attr"`
	B     string `xml:"B,attr"`
	C     string `xml:"C,attr"` // customer
	D     string `xml:"D,attr"` // farm
	E     string `xml:"E,attr"` // field
	G     int    `xml:"G,attr"` // 1 planned
	H     int    `xml:"H,attr"` // zone where nothing else is said
	I     int    `xml:"I,attr"` // zone without a position
	J     int    `xml:"J,attr"` // zone outside the field
	Zones []tzn  `xml:"TZN"`
	Grid  *grd   `xml:"GRD"`
}

type tzn struct {
	A      int    `xml:"A,attr"`
	B      string `xml:"B,attr"`
	Colour int    `xml:"C,attr"`
	Areas  []pln  `xml:"PLN"`
	Values []pdv  `xml:"PDV"`
}

type pdv struct {
	A string `xml:"A,attr"` // data dictionary entity
	B int32  `xml:"B,attr"`
	C string `xml:"C,attr"` // product
	E string `xml:"E,attr"` // value presentation
}

type grd struct {
	A string `xml:"A,attr"` // southern edge
	B string `xml:"B,attr"` // western edge
	C string `xml:"C,attr"` // cell northwards
	D string `xml:"D,attr"` // cell eastwards
	E int    `xml:"E,attr"` // columns
	F int    `xml:"F,attr"` // rows
	G string `xml:"G,attr"` // file
	H int    `xml:"H,attr"` // bytes
	I int    `xml:"I,attr"` // type
	J *int   `xml:"J,attr"` // zone, of type 2
}

func newPoint(p orb.Point) pnt {
	return pnt{A: 2, C: decimal(p.Lat(), 7), D: decimal(p.Lon(), 7)}
}

// decimal writes no exponent and no needless noughts.
func decimal(v float64, places int) string {
	f, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'f', places, 64), 64)
	return strconv.FormatFloat(f+0, 'f', -1, 64)
}
