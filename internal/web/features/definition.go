package features

import (
	"strconv"

	"github.com/geocoris/geocoris/internal/engine"
)

// object is one of JSON; its names are written in the order of the alphabet.
type object = map[string]any

// definition is that of the API, by OpenAPI 3.0.
func (s site) definition() object {
	paths := object{
		"/":                           operation("getLandingPage", "Landing page", jsonType, "landingPage", nil),
		"/conformance":                operation("getConformance", "Requirements classes that are kept", jsonType, "conformance", nil),
		"/api":                        operation("getDefinition", "This definition", openAPIType, "", nil),
		"/collections":                operation("getCollections", "Collections", jsonType, "collections", nil),
		"/collections/{collectionId}": operation("describeCollection", "A collection", jsonType, "collection", []string{"collectionId"}),
		"/collections/{collectionId}/items": operation("getFeatures", "Features of a collection", geoType, "featureCollection",
			[]string{"collectionId", "bbox", "datetime", "limit", "after"}),
		"/collections/{collectionId}/items/{featureId}": operation("getFeature", "A feature", geoType, "feature", []string{"collectionId", "featureId"}),
	}
	return object{
		"openapi": "3.0.3",
		"info":    object{"title": s.name, "description": described, "version": "1.0.0"},
		"servers": []object{{"url": s.base}},
		"paths":   paths,
		"components": object{
			"parameters":      parameters(),
			"schemas":         schemas(),
			"responses":       object{"Error": object{"description": "what is wrong", "content": object{jsonType: object{"schema": reference("schemas", "exception")}}}},
			"securitySchemes": object{"basic": object{"type": "http", "scheme": "basic"}, "bearer": object{"type": "http", "scheme": "bearer"}},
		},
	}
}

func reference(kind, name string) object { return object{"$ref": "#/components/" + kind + "/" + name} }

func operation(id, what, kind, schema string, takes []string) object {
	content := object{"schema": object{"type": "object"}}
	if schema != "" {
		content["schema"] = reference("schemas", schema)
	}
	responses := object{"200": object{"description": what, "content": object{kind: content}}}
	for _, status := range []string{"400", "401", "404", "405", "406", "500"} {
		responses[status] = reference("responses", "Error")
	}
	get := object{"operationId": id, "summary": what, "responses": responses}
	var params []object
	for _, name := range takes {
		params = append(params, reference("parameters", name))
	}
	if params != nil {
		get["parameters"] = params
	}
	return object{"get": get}
}

func parameters() object {
	var ids []string
	for _, l := range engine.SeasonLayers() {
		ids = append(ids, l.Name)
	}
	numbers := func(least, most int) object {
		return object{"type": "array", "oneOf": []object{{"minItems": 4, "maxItems": 4}, {"minItems": 6, "maxItems": 6}}, "minItems": least, "maxItems": most, "items": object{"type": "number"}}
	}
	query := func(name, what, style string, schema object) object {
		return object{"name": name, "in": "query", "required": false, "description": what, "style": style, "explode": false, "schema": schema}
	}
	path := func(name, what string, schema object) object {
		return object{"name": name, "in": "path", "required": true, "description": what, "schema": schema}
	}
	return object{
		"collectionId": path("collectionId", "name of a collection", object{"type": "string", "enum": ids}),
		"featureId":    path("featureId", "number of a feature", object{"type": "string"}),
		"bbox":         query("bbox", "features that have ground in a box: west, south, east, north in degrees on WGS 84, or six numbers with heights", "form", numbers(4, 6)),
		"datetime":     query("datetime", "features of a day or time, or of an interval such as 2031-08-01/2031-08-14, 2031-08-01/.. or ../2031-08-14; days are of UTC", "form", object{"type": "string"}),
		"limit":        query("limit", "most features of a page; more than "+strconv.Itoa(mostLimit)+" are taken as so many", "form", object{"type": "integer", "minimum": 1, "maximum": mostLimit, "default": usualLimit}),
		"after":        query("after", "features of numbers above this one, as the link to the next page asks", "form", object{"type": "integer", "minimum": 0}),
	}
}

func schemas() object {
	text, number := object{"type": "string"}, object{"type": "number"}
	list := func(of object) object { return object{"type": "array", "items": of} }
	links := list(reference("schemas", "link"))
	of := func(required []string, properties object) object {
		return object{"type": "object", "required": required, "properties": properties}
	}
	geometry := of([]string{"type", "coordinates"}, object{"type": object{"type": "string", "enum": []string{"Point", "Polygon", "MultiPolygon"}}, "coordinates": list(object{})})
	return object{
		"exception":   of([]string{"code"}, object{"code": text, "description": text}),
		"link":        of([]string{"href"}, object{"href": text, "rel": text, "type": text, "title": text}),
		"landingPage": of([]string{"links"}, object{"title": text, "description": text, "links": links}),
		"conformance": of([]string{"conformsTo"}, object{"conformsTo": list(text)}),
		"collections": of([]string{"links", "collections"}, object{"links": links, "collections": list(reference("schemas", "collection"))}),
		"collection": of([]string{"id", "links"}, object{"id": text, "title": text, "description": text, "itemType": text, "crs": list(text), "links": links,
			"extent": object{"type": "object", "properties": object{"spatial": object{"type": "object"}, "temporal": object{"type": "object"}}}}),
		"feature": of([]string{"type", "geometry", "properties"}, object{"type": object{"type": "string", "enum": []string{"Feature"}}, "id": text, "geometry": geometry, "properties": object{"type": "object", "nullable": true}, "links": links}),
		"featureCollection": of([]string{"type", "features"}, object{"type": object{"type": "string", "enum": []string{"FeatureCollection"}}, "features": list(reference("schemas", "feature")),
			"links": links, "bbox": list(number), "numberMatched": object{"type": "integer", "minimum": 0}, "numberReturned": object{"type": "integer", "minimum": 0}}),
	}
}
