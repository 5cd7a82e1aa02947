package calendar

import "time"

// AddMonths is the day so many months after a day, or before it where months is below 0, by the corresponding-date
// rule: the day of the same number, or the last of the month where it has none. Dodds v Walker [1981] 1 WLR 1027 (House
// of Lords): four months from 30 September end on 30 January, not on the 31st (from memory).
func AddMonths(day time.Time, months int) time.Time {
	y, m, d := day.Date()
	last := time.Date(y, m+time.Month(months)+1, 0, 0, 0, 0, 0, time.UTC)
	return time.Date(last.Year(), last.Month(), min(d, last.Day()), 0, 0, 0, 0, time.UTC)
}
