package diary

import (
	"fmt"
	"strconv"

	"agremens/realize/words"
)

// Date returns the day as in ISO 8601: "2026-11-25".
func (w When) Date() string {
	y, m, d := w.civil()
	return fmt.Sprintf("%04d-%02d-%02d", y, m, d)
}

// Time returns the time of day: "16:05".
func (w When) Time() string { return fmt.Sprintf("%02d:%02d", w.Minute/60, w.Minute%60) }

//words:texts
var months = [...]string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}

// Short returns the day as people write it: "25 Nov".
func (w When) Short(c *words.Catalogue) string {
	_, m, d := w.civil()
	return c.Say("{day} {month}", "{day}", strconv.Itoa(d), "{month}", c.Say(months[m-1]))
}

// Calendar arithmetic of the Gregorian calendar in days: 400 years have
// 146,097 days. A year here begins in March, so that the leap day is its last.
const (
	fromMarch0 = 719468 // days from 1 March of the year 0 to 1 January 1970
	fourCent   = 146097
)

func (w When) civil() (year, month, day int) {
	z := w.Day + fromMarch0
	era, doe := z/fourCent, z%fourCent
	yoe := (doe - doe/1460 + doe/36524 - doe/146096) / 365
	doy := doe - (365*yoe + yoe/4 - yoe/100)
	m := (5*doy + 2) / 153
	day = doy - (153*m+2)/5 + 1
	month, year = m+3, yoe+400*era
	if month > 12 {
		month, year = month-12, year+1
	}
	return year, month, day
}
