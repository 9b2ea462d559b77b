package survey_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

func totals(s *survey.Survey) (out []float64) {
	for _, stop := range s.Stops {
		out = append(out, stop.Total)
	}
	return out
}

func TestThousandsOfCounts(t *testing.T) {
	s, err := regress(t, "thousands_us.csv")
	require.NoError(t, err)
	assert.Empty(t, problems(s))
	assert.Equal(t, []float64{1150, 12, 1150, 12300}, totals(s))
	assert.Contains(t, s.Notes, `thousands_us.csv: numbers such as "1,150" are read as thousands, 1150`)

	s, err = regress(t, "thousands_german.csv")
	require.NoError(t, err)
	assert.Empty(t, problems(s))
	assert.Equal(t, []float64{1150, 12, 1150}, totals(s))
	assert.Contains(t, s.Notes, `thousands_german.csv: numbers such as "1.150" are read as thousands, 1150`)

	s, err = survey.Read(given.Files(t, testkit.Testdata(t, "regress", "survey", "thousands_or_fraction.csv")), survey.Options{UTM: "14N"})
	require.NoError(t, err)
	assert.Equal(t, []float64{1150, 12}, totals(s))
	require.Len(t, s.Problems, 1, "nothing tells the sign of fractions")
	assert.Equal(t, survey.Doubtful, s.Problems[0].Severity)
	assert.Contains(t, problems(s)[0], `count "1.150": is read as thousands, 1150, and may be a fraction; write it in digits alone`)

	s, err = regress(t, "point_thousands_among_points.csv")
	require.NoError(t, err)
	assert.Equal(t, []string{
		`point_thousands_among_points.csv:2: count "1.150": can be 1150 or 1.150; write it in digits alone`,
		`point_thousands_among_points.csv:3: count "12.000": can be 12000 or 12.000; write it in digits alone`,
	}, problems(s))
	assert.Equal(t, []float64{12}, totals(s))
}

func TestThousandsOneByOne(t *testing.T) {
	const us, german, open = "stop,longitude,latitude,count\nA,1.5,2.5,", "stop;longitude;latitude;count\nA;1,5;2,5;", "stop\tlongitude\tlatitude\tcount\nA\t1\t2\t"
	for _, c := range []struct {
		head, text string
		want       float64 // −1 where it is refused
		doubts     int
	}{
		{us, `"1,150"`, 1150, 0}, {us, `"+1,150"`, 1150, 0}, {us, `"999,999"`, 999999, 1}, {us, `"0,150"`, -1, 0}, {us, `"1,15"`, -1, 0}, {us, `"1,1500"`, -1, 0}, {us, `"12345,150"`, -1, 0},
		{us, "1'150", 1150, 0}, {us, "1’150", 1150, 0}, {us, "1 150", 1150, 0}, {us, "1\u00a0150", 1150, 0}, {us, "1\u202f150", 1150, 0}, {us, "1\u2009150", 1150, 0}, {us, "1  150", -1, 0},
		{us, `"1,150.00"`, 1150, 0}, {us, `"1,150.50"`, -1, 0}, {us, `"1.150,00"`, -1, 0}, {us, "1.150", -1, 0}, {us, "1.000", 1, 0}, {us, `"1,150,5"`, -1, 0}, {us, `"-1,150"`, -1, 0},
		{german, "1.150", 1150, 0}, {german, "1,150", -1, 0}, {german, "1.150,00", 1150, 0}, {german, "1.000.000", 1000000, 1}, {german, "0.150", -1, 0},
		{open, "1,150", 1150, 1}, {open, "1.150", 1150, 1}, {open, "7", 7, 0},
	} {
		end := "\n"
		s := read(t, c.head+c.text+end, survey.Options{})
		if c.want < 0 {
			assert.Equal(t, 1, s.Tally.SetAside, c.text)
			continue
		}
		require.Len(t, s.Stops, 1, "%s %v", c.text, problems(s))
		assert.Equal(t, c.want, s.Stops[0].Total, c.text)
		if c.text != `"999,999"` && c.text != "1.000.000" { // many on each are doubted
			assert.Len(t, s.Problems, c.doubts, "%s %v", c.text, problems(s))
		}
	}
	// Another count with a comma that can be nothing but a fraction's.
	s := read(t, us+"\"1,150\"\nB,1.5,2.6,\"7,5\"\n", survey.Options{})
	assert.Contains(t, problems(s)[0], `can be 1150 or 1.150`)
	assert.Empty(t, s.Stops)
	// All counts with points, as programs print them.
	s = read(t, "stop,longitude,latitude,count\nA,1.5,2.5,12.000\nB,1.5,2.6,0.000\nC,1.5,2.7,7.000\n", survey.Options{})
	assert.Equal(t, []float64{12, 0, 7}, totals(s))
	// A mean may have a fraction, so nothing is guessed.
	s = read(t, "stop\tlongitude\tlatitude\tmean\tleaves\nA\t1\t2\t1,204\t10\n", survey.Options{})
	assert.Contains(t, problems(s)[0], "can be 1204 or 1.204")
	s = read(t, "stop,longitude,latitude,mean,leaves\nA,1.5,2.5,1.204,10\n", survey.Options{})
	assert.InDelta(t, 12.04, s.Stops[0].Total, 1e-9)
}

func TestClassesThatBecameDates(t *testing.T) {
	s, err := regress(t, "class_made_date.csv")
	require.NoError(t, err)
	got := problems(s)
	require.Len(t, got, 8)
	for i, want := range []string{"11-50", "1-10", "1-10", "11-50", "1-10", "1-10", "1-50", "1-10"} {
		said := "the spreadsheet made a date of " + want + "; format the column as text and type it again"
		if i == 3 { // 11/50
			said = "may be 11 on 50 leaves, or the date that a spreadsheet made of 11-50; write 11 under count and 50 under leaves, or 11-50 as a text"
		}
		assert.Contains(t, got[i], said)
	}
	require.Len(t, s.Stops, 1)
	assert.Equal(t, "I", s.Stops[0].Name, "a class that stayed one")
}

func TestNumbersWithTheirUnit(t *testing.T) {
	s, err := regress(t, "units_behind.csv")
	require.NoError(t, err)
	assert.Equal(t, []float64{12, 7}, totals(s))
	assert.Equal(t, 10.0, s.Stops[0].Units)
	assert.Contains(t, s.Notes, `units_behind.csv: numbers with a word, such as "12 aphids", are read without it, 12`)
	assert.Equal(t, []string{
		`units_behind.csv:4: count "12 beetles": is not a number; write a number`,
		`units_behind.csv:5: count "12%": is a percentage; write how many were found`,
		`units_behind.csv:6: count "#N/A": is an error of the spreadsheet; write the number in place of the formula`,
		`units_behind.csv:7: count "#####": was too wide for its column when the file was saved; make the column wider and save the file again`,
	}, problems(s))
}

// Nobody looks at thousands of leaves: what may be thousands or a fraction is not read
// where it is no count, and both readings are named.
func TestThousandsAreOfCountsAlone(t *testing.T) {
	const head, semicolons = "stop,longitude,latitude,count,leaves,empty,infested\n", "stop;longitude;latitude;count;leaves;empty;infested\n"
	for _, c := range []struct{ text, want string }{
		{head + "A,1.5,2.5,9,\"10,000\",,\n", `leaves "10,000": can be 10000 or 10.000; write it in digits alone`},
		{head + "A,1.5,2.5,9,10.000,,\n", `leaves "10.000": can be 10000 or 10.000; write it in digits alone`},
		{head + "A,1.5,2.5,9,\"1,000\",,\n", `leaves "1,000": can be 1000 or 1.000; write it in digits alone`},
		{head + "A,1.5,2.5,9,8,\"2,000\",\n", `empty "2,000": can be 2000 or 2.000; write it in digits alone`},
		{head + "A,1.5,2.5,9,10,,\"2,000\"\n", `infested "2,000": can be 2000 or 2.000; not used; write it in digits alone`},
		{head + "A,1.5,2.5,9,10'000,,\n", `leaves "10'000": has a sign between its thousands; write it in digits alone`},
		{head + "A,1.5,2.5,9,\"1,000.00\",,\n", `leaves "1,000.00": has a sign between its thousands; write it in digits alone`},
		{semicolons + "A;1,5;2,5;9;10.000;;\n", `leaves "10.000": can be 10000 or 10.000; write it in digits alone`},
		{semicolons + "A;1,5;2,5;9;10,000;;\n", `leaves "10,000": can be 10000 or 10.000; write it in digits alone`},
		{"stop\tlongitude\tlatitude\tcount\tleaves\nA\t1\t2\t9\t10.000\n", `leaves "10.000": can be 10000 or 10.000; write it in digits alone`},
	} {
		s := read(t, c.text, survey.Options{})
		require.Len(t, s.Problems, 1, c.text)
		assert.Equal(t, "counts.csv:2: "+c.want, s.Problems[0].String())
		assert.NotContains(t, s.Notes, "read as thousands", c.text)
		if s.Problems[0].Severity == survey.Refused {
			assert.Empty(t, s.Stops, c.text)
		}
	}
	// A program that prints three decimals prints them everywhere.
	s := read(t, head+"A,1.5,2.5,9.000,10.000,,\n", survey.Options{})
	require.Len(t, s.Stops, 1)
	assert.Equal(t, 0.9, s.Stops[0].Mean())
	s = read(t, head+"A,1.5,2.5,\"1,150\",10,,\n", survey.Options{})
	assert.Equal(t, []float64{1150}, totals(s))
}

// What begins with a zero has no thousands, and what has both signs has.
func TestMeansWithThreeDecimals(t *testing.T) {
	const points, commas = "stop,longitude,latitude,mean,leaves\nA,1.5,2.5,", "stop;longitude;latitude;mean;leaves\nA;1,5;2,5;"
	for _, c := range []struct {
		text string
		want any
	}{
		{points + "0.018,10\n", 0.018},
		{points + "\"0,900\",10\n", `mean "0,900": has a decimal comma, and this file decimal points; write it with a point`},
		{points + "\"1,122\",10\n", `mean "1,122": has a sign between its thousands; write it in digits alone`},
		{points + "\"1,122.0\",10\n", `mean "1,122.0": has a sign between its thousands; write it in digits alone`},
		{points + "\"1,122.25\",10\n", `mean "1,122.25": has a sign between its thousands; write it in digits alone`},
		{points + "\"1,12.25\",10\n", `mean "1,12.25": is not a number; write a number`},
		{commas + "0,018;10\n", 0.018},
		{commas + "0.018;10\n", 0.018},
		{commas + "1.122;10\n", `mean "1.122": has a sign between its thousands; write it in digits alone`},
		{commas + "1.122,5;10\n", `mean "1.122,5": has a sign between its thousands; write it in digits alone`},
		{"stop\tlongitude\tlatitude\tmean\tleaves\nA\t1\t2\t0,018\t10\n", 0.018},
	} {
		s := read(t, c.text, survey.Options{})
		if mean, is := c.want.(float64); is {
			require.Len(t, s.Stops, 1, "%s %v", c.text, problems(s))
			assert.InDelta(t, mean, s.Stops[0].Mean(), 1e-12)
			continue
		}
		assert.Equal(t, []string{"counts.csv:2: " + c.want.(string)}, problems(s))
	}
}
