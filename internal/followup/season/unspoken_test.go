package season_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/followup/season"
)

func TestNoPasswordIsRepeated(t *testing.T) {
	for said, want := range map[string]string{
		`open postgres:/ann:s3cret@office.example/season: no such file`:                       `open postgres:/ann@office.example/season: no such file`,
		`postgres:ann:s3cret@office.example/season`:                                           `postgres:ann@office.example/season`,
		`unknown command "POSTGRES://ann:s3@cret@h/d" for "geocoris"`:                         `unknown command "POSTGRES://ann@h/d" for "geocoris"`,
		`postgresql://ann:s3cret s3cret@h/d is no file`:                                       `postgresql://ann@h/d is no file`,
		`postgres://ann:s3cret/s3cret: is missing`:                                            `postgres://ann:… is missing`,
		`user=ann password=s3cret host=h: no such file`:                                       `user=ann password=… host=h: no such file`,
		`host=h PASSWORD = 's3cret s3cret' dbname=d`:                                          `host=h PASSWORD = … dbname=d`,
		`postgres://h/d?sslpassword=s3cret&sslmode=require: x`:                                `postgres://h/d?sslpassword=…&sslmode=require: x`,
		`want postgres://USER@HOST/DATABASE; give a password: write its @ / # ? and % as %40`: `want postgres://USER@HOST/DATABASE; give a password: write its @ / # ? and % as %40`,
		`postgres://h:5432/d: the server does not answer; give the password in PGPASSWORD`:    `postgres://h:5432/d: the server does not answer; give the password in PGPASSWORD`,
		`season.gpkg: is missing`:                                                             `season.gpkg: is missing`,
	} {
		assert.Equal(t, want, season.Unspoken(said))
	}
}
