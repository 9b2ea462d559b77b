package figures

import (
	"fmt"
	"time"

	"github.com/geocoris/geocoris/internal/language/vocabulary"
)

// Day is [Units.Day] in English.
func Day(iso string) string { return Both.Day(iso) }

// Day writes a day given by ISO 8601 as people say it: Saturday 18 July, sábado 18 de
// julio. What is no such day stays as it is.
func (u Units) Day(iso string) string {
	day, err := time.Parse(time.DateOnly, iso)
	if err != nil {
		return iso
	}
	weekday, month := u.names(day)
	if u.language == vocabulary.Spanish {
		return fmt.Sprintf("%s %d de %s", weekday, day.Day(), month)
	}
	return fmt.Sprintf("%s %d %s", weekday, day.Day(), month)
}

// ShortDay is [Units.Day] for a column: Sat 18 Jul, sáb 18 jul.
func (u Units) ShortDay(iso string) string {
	day, err := time.Parse(time.DateOnly, iso)
	if err != nil {
		return iso
	}
	weekday, month := u.names(day)
	return fmt.Sprintf("%.3s %d %.3s", weekday, day.Day(), month)
}

// DayOfYear is [Units.Day] with the year.
func (u Units) DayOfYear(iso string) string {
	form := "%s %.4s"
	if u.language == vocabulary.Spanish {
		form = "%s de %.4s"
	}
	return fmt.Sprintf(form, u.Day(iso), iso)
}

// DayBeside is a day beside another: with its year where that is not the other's.
func (u Units) DayBeside(iso, other string) string {
	if len(iso) >= 4 && len(other) >= 4 && iso[:4] != other[:4] {
		return u.DayOfYear(iso)
	}
	return u.Day(iso)
}

// names are a day's of the week and the month's.
func (u Units) names(day time.Time) (weekday, month string) {
	if u.language == vocabulary.Spanish {
		return spanishWeekdays[day.Weekday()], spanishMonths[day.Month()-1]
	}
	return day.Weekday().String(), day.Month().String()
}

var (
	spanishWeekdays = [...]string{"domingo", "lunes", "martes", "miércoles", "jueves", "viernes", "sábado"}
	spanishMonths   = [...]string{"enero", "febrero", "marzo", "abril", "mayo", "junio", "julio", "agosto", "septiembre", "octubre", "noviembre", "diciembre"}
)
