package cli

import "github.com/geocoris/geocoris/internal/survey"

// utcOffset is a flag for how far the clocks of the fields are from UTC; "" leaves
// it to the sun.
type utcOffset string

func (o *utcOffset) Set(text string) error {
	if text == "" {
		*o = ""
		return nil
	}
	minutes, err := survey.ParseUTCOffset(text)
	if err != nil {
		return err
	}
	*o = utcOffset(survey.OffsetText(minutes))
	return nil
}

func (o *utcOffset) String() string { return string(*o) }
func (o *utcOffset) Type() string   { return "hours" }

// UnmarshalText takes a number or a text of a settings file.
func (o *utcOffset) UnmarshalText(text []byte) error { return o.Set(string(text)) }
