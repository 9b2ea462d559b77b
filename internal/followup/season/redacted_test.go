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
		`postgers://ann:s3cret@h/d is not there`:                                              `postgers://ann@h/d is not there`,
		`postgre://ann:s3@cret/x@h/d, mysql://h:3306/d, pg://h/d`:                             `postgre://ann@h/d, mysql://h:3306/d, pg://h/d`,
		`open postgis:/ann:s3cret@h/d: no such file`:                                          `open postgis@h/d: no such file`,
		`https://ann:s3cret@h is not there`:                                                   `https://ann@h is not there`,
		`psql://ann:s3cret s3cret@h/d is no file`:                                             `psql://ann@h/d is no file`,
		`mysql://ann:s3cret is missing`:                                                       `mysql://ann:… is missing`,
		`postgres//ann:s3cret@h/d, postgres;//ann:s3cret@h/d`:                                 `postgres//ann@h/d, postgres;//ann@h/d`,
		`postgres;//ann:s3cret@h/d is not there`:                                              `postgres;//ann@h/d is not there`,
		`flag --season "ann:s3cret@h/d"`:                                                      `flag --season "ann@h/d"`,
		`ann:/s3cret@h/d is not there`:                                                        `ann@h/d is not there`,
		`C:\scouts\a@b.csv, D:/scouts/a@b.csv:3: mail a@b.example`:                            `C:\scouts\a@b.csv, D:/scouts/a@b.csv:3: mail a@b.example`,
		`http://127.0.0.1:8080 is open; write to a@b.example`:                                 `http://127.0.0.1:8080 is open; write to a@b.example`,
		`https://example.org/path: ask a@b.example`:                                           `https://example.org/path: ask a@b.example`,
		`season.gpkg: is missing`:                                                             `season.gpkg: is missing`,
	} {
		assert.Equal(t, want, season.Redacted(said))
	}
}
