package cli

import (
	"errors"
	"strconv"
	"strings"
)

// visits is a flag that takes numbers of visits, parted by commas. Given again, it adds to
// those before.
type visits struct{ numbers *[]int64 }

func (v visits) Set(text string) error {
	var out []int64
	for part := range strings.SplitSeq(text, ",") {
		n, err := strconv.ParseInt(strings.TrimSpace(part), 10, 64)
		if err != nil || n < 1 {
			return errors.New("want numbers of visits parted by commas, such as 2,3")
		}
		out = append(out, n)
	}
	*v.numbers = append(*v.numbers, out...)
	return nil
}

func (v visits) String() string {
	if v.numbers == nil {
		return ""
	}
	var all []string
	for _, n := range *v.numbers {
		all = append(all, strconv.FormatInt(n, 10))
	}
	return strings.Join(all, ",")
}

func (v visits) Type() string { return "visits" }
