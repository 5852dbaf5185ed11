package say

import (
	"context"
	"fmt"
	"strconv"
	"time"

	"golang.org/x/text/language"
)

// names are those of a calendar.
type names struct {
	days, shortDays     [7]string // from Sunday
	months, shortMonths [12]string
}

// calendars are the names by language.
//
// Source: Unicode CLDR, Gregorian calendar, format names (from memory).
var calendars = map[language.Tag]names{
	language.English: {
		[7]string{"Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"},
		[7]string{"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"},
		[12]string{"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"},
		[12]string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"},
	},
	language.Spanish: {
		[7]string{"domingo", "lunes", "martes", "miércoles", "jueves", "viernes", "sábado"},
		[7]string{"dom", "lun", "mar", "mié", "jue", "vie", "sáb"},
		[12]string{"enero", "febrero", "marzo", "abril", "mayo", "junio", "julio", "agosto", "septiembre", "octubre", "noviembre", "diciembre"},
		[12]string{"ene", "feb", "mar", "abr", "may", "jun", "jul", "ago", "sept", "oct", "nov", "dic"},
	},
}

func calendar(ctx context.Context) names { return calendars[Language(ctx)] }

// Weekday is the short name of the day: "Mon", "lun".
func Weekday(ctx context.Context, t time.Time) string {
	return calendar(ctx).shortDays[t.Weekday()]
}

// Day is a day of this year in a list: "Mon 2 Jan", "lun 2 ene".
func Day(ctx context.Context, t time.Time) string {
	c := calendar(ctx)
	return fmt.Sprintf("%s %d %s", c.shortDays[t.Weekday()], t.Day(), c.shortMonths[t.Month()-1])
}

// ShortDay is a day without its name, under a chart: "2 Jan", "2 ene".
func ShortDay(ctx context.Context, t time.Time) string {
	return fmt.Sprintf("%d %s", t.Day(), calendar(ctx).shortMonths[t.Month()-1])
}

// LongDay is a day of this year in full: "Monday 2 January", "lunes 2 de enero".
func LongDay(ctx context.Context, t time.Time) string {
	return calendar(ctx).days[t.Weekday()] + " " + dayOfMonth(ctx, t)
}

// Date is a day with its year: "2 January 2026", "2 de enero de 2026".
func Date(ctx context.Context, t time.Time) string {
	year := strconv.Itoa(t.Year())
	if Language(ctx) == language.Spanish {
		return dayOfMonth(ctx, t) + " de " + year
	}
	return dayOfMonth(ctx, t) + " " + year
}

func dayOfMonth(ctx context.Context, t time.Time) string {
	month := calendar(ctx).months[t.Month()-1]
	if Language(ctx) == language.Spanish {
		return strconv.Itoa(t.Day()) + " de " + month
	}
	return strconv.Itoa(t.Day()) + " " + month
}
