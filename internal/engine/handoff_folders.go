//go:build !small

package engine

import (
	"path"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/output/jobsheet"
)

// fieldFolders are the files of each field in a folder of its own, which goes onto a stick
// as it is: one purpose, one file, one field. Fields of a grower lie in a folder of the
// grower's.
func fieldFolders(sheet jobsheet.Sheet) (all []geofile.Part, err error) {
	var fields, growers []string
	for _, j := range sheet.Result.Jobs {
		fields, growers = append(fields, j.Field), append(growers, j.Customer)
	}
	names := folderNames(fields, growers)
	for i, j := range sheet.Result.Jobs {
		files, err := fieldFiles(sheet.Of(j))
		if err != nil {
			return nil, err
		}
		for _, f := range files {
			all = append(all, geofile.Part{Name: path.Join(names[i], f.Name), Content: f.Content})
		}
	}
	return all, nil
}

// folderNames are those of fields, with the grower's before them where known; two that a
// disk may take for one, in one folder, get numbers.
func folderNames(fields, growers []string) (names []string) {
	type folder struct {
		name   string
		within func(called string) string
	}
	top := folder{within: diskNames()}
	whose := map[string]folder{"": top}
	for i, field := range fields {
		of, known := whose[growers[i]]
		if !known {
			of = folder{top.within(growers[i]), diskNames()}
			whose[growers[i]] = of
		}
		names = append(names, path.Join(of.name, of.within(field)))
	}
	return names
}

// fieldFiles are those of one field, Shapefiles in their parts.
func fieldFiles(sheet jobsheet.Sheet) (files []geofile.Part, err error) {
	layers, err := sheet.Layers()
	if err != nil {
		return nil, err
	}
	for _, l := range layers {
		if !forMachines(l.Name) {
			continue
		}
		parts, err := geofile.ShapefileParts(l)
		if err != nil {
			return nil, err
		}
		files = append(files, parts...)
	}
	renderings, _, err := partsOf(sheet, nil)
	if err != nil {
		return nil, err
	}
	rest, err := render(renderings)
	for _, f := range rest {
		files = append(files, geofile.Part{Name: f.Name, Content: f.Content})
	}
	return files, err
}
