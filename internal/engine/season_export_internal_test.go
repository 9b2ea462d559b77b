package engine

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestNumbersOfVisitsInTheNameOfAFile(t *testing.T) {
	for want, numbers := range map[string][]int64{
		"": nil, "3": {3}, "1-2": {2, 1}, "1-3,7": {1, 2, 3, 7}, "1,3,5,7,9,11,13,15,and-more": {1, 3, 5, 7, 9, 11, 13, 15, 17, 19}, "1,3,5,7,9,11,13,15": {1, 3, 5, 7, 9, 11, 13, 15}, "4": {4, 4},
	} {
		assert.Equal(t, want, ranges(numbers))
	}
}
