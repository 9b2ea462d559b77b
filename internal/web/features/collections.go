package features

import (
	"slices"

	"github.com/geocoris/geocoris/internal/engine"
)

// crs84 is longitude and latitude on WGS 84, in this order.
const crs84 = "http://www.opengis.net/def/crs/OGC/1.3/CRS84"

// classes are the requirements classes that are kept (OGC 17-069r4).
var classes = []string{
	"http://www.opengis.net/spec/ogcapi-features-1/1.0/conf/core",
	"http://www.opengis.net/spec/ogcapi-features-1/1.0/conf/oas30",
	"http://www.opengis.net/spec/ogcapi-features-1/1.0/conf/geojson",
}

type conformance struct {
	ConformsTo []string `json:"conformsTo"`
}

type link struct {
	Href  string `json:"href"`
	Rel   string `json:"rel"`
	Type  string `json:"type,omitempty"`
	Title string `json:"title,omitempty"`
}

// A site is where the answers stand, and of which season they are.
type site struct{ base, name string }

type landing struct {
	Title       string `json:"title"`
	Description string `json:"description"`
	Links       []link `json:"links"`
}

const described = "Fields, stops, zones and verdicts of a season of scouting, as they were kept. Spraying is for the label, local rules and a person to decide."

func (s site) landing() landing {
	return landing{s.name, described, []link{
		{s.base + "/", "self", jsonType, "this page"},
		{s.base + "/api", "service-desc", openAPIType, "definition of the API"},
		{s.base + "/conformance", "conformance", jsonType, "requirements classes that are kept"},
		{s.base + "/collections", "data", jsonType, "collections"},
	}}
}

type collections struct {
	Links       []link       `json:"links"`
	Collections []collection `json:"collections"`
}

type collection struct {
	ID          string   `json:"id"`
	Title       string   `json:"title"`
	Description string   `json:"description"`
	Extent      *extent  `json:"extent,omitempty"`
	ItemType    string   `json:"itemType"`
	CRS         []string `json:"crs"`
	Links       []link   `json:"links"`
}

type extent struct {
	Spatial  spatial   `json:"spatial"`
	Temporal *temporal `json:"temporal,omitempty"`
}

type spatial struct {
	Bbox [][4]float64 `json:"bbox"`
	CRS  string       `json:"crs"`
}

type temporal struct {
	Interval [][2]string `json:"interval"`
	TRS      string      `json:"trs"`
}

func (h handler) collections(at site) (answer, error) {
	all := collections{Links: []link{{at.base + "/collections", "self", jsonType, "collections"}}}
	for _, l := range engine.SeasonLayers() {
		c, err := h.collection(at, l.Name)
		if err != nil {
			return answer{}, err
		}
		all.Collections = append(all.Collections, c)
	}
	return document(all)
}

// layer is that of a collection.
func layer(id string) (engine.SeasonLayer, error) {
	layers := engine.SeasonLayers()
	i := slices.IndexFunc(layers, func(l engine.SeasonLayer) bool { return l.Name == id })
	if i < 0 {
		return engine.SeasonLayer{}, notFound("there is no such collection; /collections names those there are")
	}
	return layers[i], nil
}

func (h handler) collection(at site, id string) (collection, error) {
	l, err := layer(id)
	if err != nil {
		return collection{}, err
	}
	own := at.base + "/collections/" + l.Name
	c := collection{ID: l.Name, Title: l.Title, Description: l.What, ItemType: "feature", CRS: []string{crs84}, Links: []link{
		{own, "self", jsonType, l.Title},
		{own + "/items", "items", geoType, l.Title + " as GeoJSON"},
	}}
	where, err := h.season.Extent(l.Name)
	if err != nil || where == nil {
		return c, err
	}
	c.Extent = &extent{Spatial: spatial{[][4]float64{where.Box}, crs84}}
	if where.First != "" {
		c.Extent.Temporal = &temporal{[][2]string{{where.First + "T00:00:00Z", where.Last + "T23:59:59Z"}}, "http://www.opengis.net/def/uom/ISO-8601/0/Gregorian"}
	}
	return c, nil
}
