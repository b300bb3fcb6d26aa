package diary

import "strconv"

// DayOf returns the day that a date names, in days since 1 January 1970: what
// [When.Date] wrote, read back. ok is false for what is no date.
func DayOf(date string) (day int, ok bool) {
	if len(date) != len("2026-11-25") || date[4] != '-' || date[7] != '-' {
		return 0, false
	}
	y, err1 := strconv.Atoi(date[:4])
	m, err2 := strconv.Atoi(date[5:7])
	d, err3 := strconv.Atoi(date[8:])
	if err1 != nil || err2 != nil || err3 != nil || y < 0 || m < 1 || m > 12 || d < 1 {
		return 0, false
	}
	if m <= 2 { // the year begins in March
		y--
	}
	era := floor(y, 400)
	yoe := y - 400*era
	doe := 365*yoe + yoe/4 - yoe/100 + (153*((m+9)%12)+2)/5 + d - 1
	day = era*fourCent + doe - fromMarch0
	return day, When{Day: day}.Date() == date
}

func floor(a, b int) int {
	if a < 0 {
		a -= b - 1
	}
	return a / b
}
