package features

import (
	"encoding/json"
	"errors"
	"net/url"
	"strconv"

	"github.com/geocoris/geocoris/internal/engine"
)

// items are a page of a collection: what the engine writes, with links put in front.
func (h handler) items(at site, id string, query url.Values) (answer, error) {
	l, err := layer(id)
	if err != nil {
		return answer{}, err
	}
	if err := only(query, "bbox", "datetime", "limit", "after"); err != nil {
		return answer{}, err
	}
	q := engine.FeaturesRequest{Layer: l.Name}
	if q.SeasonWindow, err = windowOf(query); err != nil {
		return answer{}, err
	}
	page, err := engine.SeasonFeatures(h.season, q)
	if err != nil {
		return answer{}, err
	}
	own := at.base + "/collections/" + l.Name
	links := []link{{own + "/items" + asked(query), "self", geoType, "this page"}, {own, "collection", jsonType, l.Title}}
	if page.Last > 0 {
		query.Set("after", strconv.FormatInt(page.Last, 10))
		query.Set("limit", strconv.Itoa(q.Limit))
		links = append(links, link{own + "/items" + asked(query), "next", geoType, "next page"})
	}
	content, err := withLinks(page.GeoJSON, links)
	return answer{[]string{geoType, jsonType}, content}, err
}

func asked(query url.Values) string {
	if len(query) == 0 {
		return ""
	}
	return "?" + query.Encode()
}

// withLinks puts links into an object of JSON, in front.
func withLinks(object []byte, links []link) ([]byte, error) {
	text, err := json.Marshal(links)
	if err != nil {
		return nil, err
	}
	out := append([]byte(`{"links":`), text...)
	return append(append(out, ','), object[1:]...), nil
}

func (h handler) item(at site, id, feature string) (answer, error) {
	l, err := layer(id)
	if err != nil {
		return answer{}, err
	}
	number, err := strconv.ParseInt(feature, 10, 64)
	if err != nil || strconv.FormatInt(number, 10) != feature {
		return answer{}, notFound("there is no such feature")
	}
	object, err := engine.SeasonFeature(h.season, l.Name, number)
	if errors.Is(err, engine.ErrNoFeature) {
		return answer{}, notFound("there is no such feature")
	}
	if err != nil {
		return answer{}, err
	}
	own := at.base + "/collections/" + l.Name
	content, err := withLinks(object, []link{{own + "/items/" + feature, "self", geoType, "this feature"}, {own, "collection", jsonType, l.Title}})
	return answer{[]string{geoType, jsonType}, content}, err
}
