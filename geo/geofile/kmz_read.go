package geofile

import (
	"fmt"
	"path"
	"strings"
)

// decodeKMZ reads the KML in a zip archive: doc.kml, or else the first file of
// that kind, and the files of the archive that it links to.
func decodeKMZ(a *contents, limits Limits) (Collection, error) {
	main, err := a.main()
	if err != nil {
		return Collection{}, err
	}
	all := &kmlReader{limits: limits}
	if err := a.follow(main, all, map[string]bool{}); err != nil {
		return Collection{}, err
	}
	return all.collection(), nil
}

// follow reads one file and then, once each, those it links to.
func (a *contents) follow(name string, all *kmlReader, seen map[string]bool) error {
	seen[name] = true
	text, err := a.read(name)
	if err != nil {
		return err
	}
	k, err := readKML(text, all.limits, all.vertices)
	if err != nil {
		if e, ok := err.(*Error); ok {
			e.File = name
		}
		return err
	}
	all.features = append(all.features, k.features...)
	all.notes = append(all.notes, k.notes...)
	all.heights += k.heights
	all.bare += k.bare
	all.vertices = k.vertices
	if len(all.features) > all.limits.Features {
		return &Error{Msg: fmt.Sprintf("more than %d placemarks", all.limits.Features)}
	}
	for _, href := range k.links {
		target := path.Join(path.Dir(name), strings.SplitN(href, "#", 2)[0])
		switch _, found := a.files[target]; {
		case seen[target]:
		case found && strings.EqualFold(path.Ext(target), ".kml"):
			if err := a.follow(target, all, seen); err != nil {
				return err
			}
		default:
			all.notes = append(all.notes, fmt.Sprintf("the link to %s was not followed", href))
		}
	}
	return nil
}

func (a *contents) main() (string, error) {
	if _, ok := a.files["doc.kml"]; ok {
		return "doc.kml", nil
	}
	for _, name := range a.order {
		if strings.EqualFold(path.Ext(name), ".kml") {
			return name, nil
		}
	}
	return "", &Error{Msg: "holds no KML and no Shapefile", Hint: giveFormats}
}
