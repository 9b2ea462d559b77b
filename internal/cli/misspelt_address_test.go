package cli_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// An address whose scheme is misspelt is taken for a file by some commands, which repeat it:
// its password is left out, and the hint is of the scheme where that is nearly right.
func TestAMisspeltAddressTellsNoPassword(t *testing.T) {
	inFolder(t)
	begin := "hint: if it is the address of a database, begin it with postgres://\n"
	for address, hint := range map[string]string{
		"postgers://ann:s3cret@h/d": begin, "postgre://ann:s3cret@h/d": begin, "postgis://ann:s3cret@h/d": begin,
		"pg://ann:s3cret@h/d": begin, "psql://ann:s3cret@h/d": begin, "postgres//ann:s3cret@h/d": begin, "postgres;//ann:s3cret@h/d": begin,
		"mysql://ann:s3cret@h/d": "", "https://ann:s3cret@h": "", "ann:s3cret@h/d": "",
	} {
		for _, args := range [][]string{
			{"season", "list", address}, {"season", "add", address, "week1.csv", "--field", "field.geojson"},
			{"map", address, "--field", "field.geojson"}, {"map", "week1.csv", "--field", address}, {address}, {"season", "list", "--" + address},
		} {
			_, out, errs := run(t, args...)
			assert.NotContains(t, out+errs, "s3cret", args)
			if len(args) == 3 && args[2] == address {
				assert.Contains(t, errs, hint, args)
			}
		}
		code, _, errs := run(t, "map", "week1.csv", "--field", "field.geojson", "--out", address)
		assert.Equal(t, 2, code)
		assert.Contains(t, errs, "--out: want a name on this disk, not an address\n")
	}
	assert.NoDirExists(t, "postgers:")
	assert.NoDirExists(t, "ann:s3cret@h")
}
