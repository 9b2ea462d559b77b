//go:build !small

package engine

import (
	"encoding/json"
	"fmt"
	"path"
	"regexp"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"github.com/geocoris/geocoris/internal/output/scene"
)

// ofField begins the name of a picture of one field among several, and of further pages
// of their overview.
const ofField = "map-"

// overviewOf begins the name of further pages of an overview, after [ofField].
const overviewOf = "overview-"

// stems are the names of the pictures of fields, without their ends: letters, digits and
// _ of the field's name, all else as -. Names that a disk may take for one, as by their
// case, get numbers. They go by all fields in which somebody counted, in their order.
func stems(fields []string) (names []string) {
	name := diskNames()
	for _, field := range fields {
		names = append(names, ofField+name(field))
	}
	return names
}

// diskNames names files or folders that lie together, on any disk: each otherwise than all
// before it, by a number where it has to be.
func diskNames(before ...string) func(called string) string {
	taken := map[string]bool{}
	for _, name := range before {
		taken[name] = true
	}
	return func(called string) string {
		safe := safeName(called)
		name := safe
		for k := 2; taken[strings.ToLower(name)]; k++ {
			name = fmt.Sprintf("%s-%d", safe, k)
		}
		taken[strings.ToLower(name)] = true
		return name
	}
}

// safeName is what a field is called in names of files, on any disk.
func safeName(field string) string {
	const longest = 100 // bytes; file systems take 255
	var b strings.Builder
	for _, r := range norm.NFKC.String(field) {
		switch {
		case b.Len() >= longest:
		case unicode.IsLetter(r), unicode.IsDigit(r), unicode.IsMark(r), r == '_':
			b.WriteRune(r)
		case !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	name := strings.Trim(b.String(), "-")
	switch {
	case name == "":
		return "field"
	case strings.HasPrefix(strings.ToLower(name), overviewOf):
		return "field-" + name
	case device().MatchString(name):
		return name + "-"
	}
	return name
}

// device is what Windows takes for a device, whatever the folder or the ending.
// Source: Microsoft, "Naming Files, Paths, and Namespaces", from memory.
var device = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?i)^(con|prn|aux|nul|(com|lpt)[0-9¹²³])$`) })

// overviewPage is the name of a page of an overview; the first is that of the picture
// itself, map.png.
func overviewPage(file string, page int) string {
	if page == 0 {
		return file
	}
	return fmt.Sprintf("%s%s%d%s", ofField, overviewOf, page+1, path.Ext(file))
}

// Pictures are the names, besides [PictureFiles], that pictures of the folder's fields
// have, drawn or not: its summary tells the fields. None where map did not write it.
func (f MapFolder) Pictures() (names []string) {
	var summary struct {
		Fields []struct{ Field string }
	}
	if _, err := f.record(""); err != nil || json.Unmarshal(f.Summary.Content, &summary) != nil {
		return nil
	}
	var fields []string
	for _, one := range summary.Fields {
		fields = append(fields, one.Field)
	}
	for _, file := range [...]string{pngFile, svgFile} {
		for page := 1; page < scene.OverviewPages(len(fields)); page++ {
			names = append(names, overviewPage(file, page))
		}
		for _, stem := range stems(fields) {
			names = append(names, stem+path.Ext(file))
		}
	}
	return names
}

// Listed are the names of files for people: pictures of many fields stand as one.
func Listed(files []File) (names []string) {
	const few = 3
	many := map[string]int{}
	for _, f := range files {
		if strings.HasPrefix(f.Name, ofField) {
			many[path.Ext(f.Name)]++
		}
	}
	for _, f := range files {
		end := path.Ext(f.Name)
		switch {
		case !strings.HasPrefix(f.Name, ofField) || many[end] <= few && many[end] > 0:
			names = append(names, f.Name)
		case many[end] > few:
			names = append(names, fmt.Sprintf("%s*%s (%d)", ofField, end, many[end]))
			many[end] = 0
		}
	}
	return names
}
