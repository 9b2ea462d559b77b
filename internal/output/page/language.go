package page

import (
	"html/template"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/output/scene"
)

// said are what markup says in a language.
func said(u figures.Units) template.FuncMap {
	return template.FuncMap{
		"say": u.Text, "saying": u.Say, "counted": u.Counted, "language": u.Language().String,
		"classLabel": func(c scene.Class) string { return c.LabelIn(u) },
		// what stays in English on a page of another language is marked for those who read
		// aloud
		"inEnglish": func() template.HTMLAttr {
			if u.Language() == vocabulary.English {
				return ""
			}
			return ` lang="en"`
		},
	}
}

// spoken is what the behaviour says, in a language by its English; nothing in English.
func spoken(u figures.Units) map[string]string {
	words := map[string]string{}
	if u.Language() == vocabulary.English {
		return words
	}
	for _, english := range [...]string{
		"Stop {0}: {1} ({2} on {3})", ", on {0} ground", "; predicted by the others {0}", "Tap a stop or a colour for its numbers.",
		"asking the device where it is …", "You are not on this map.", "You are at the blue dot, to within {0} m.",
		"This page may not know where you are: the device or its browser refused. Nothing is marked.",
		"The device does not find where it is. Nothing is marked; try again under open sky.",
	} {
		words[english] = u.Text(english)
	}
	return words
}
