package spray

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// What is cut by hand, so that a phone needs no expressions, is what this one means.
func TestQuantitiesAreCutAsTheExpressionMeans(t *testing.T) {
	form := regexp.MustCompile(`^\s*([0-9]*\.?[0-9]+)\s*(\S.*?)?\s*$`)
	for _, text := range strings.Split(`|5|5m|5 m|  .5 m |5.|5. m|1.2.3|12.50ft|.|m|-5|+5|1e5|1,5|5 fl oz|5	lb/ac |5m
x|٣m`, "|") {
		_, unit, err := split(text)
		m := form.FindStringSubmatch(text)
		if assert.Equal(t, m != nil, err == nil, text) && m != nil {
			assert.Equal(t, m[2], unit, text)
		}
	}
}
