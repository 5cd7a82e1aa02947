package lease

import (
	"time"

	"unpick/domain/calendar"
)

// In England and Wales the Pre-Action Protocol for Claims for Damages in Relation to the Physical State of Commercial
// Property at Termination of a Tenancy gives 56 days after the tenancy ends for the landlord's schedule, 56 more
// for the answer, and 28 after that for the surveyors to have met.
const (
	scheduleDays = 56
	answerDays   = 56
	meetingDays  = 28
)

// after is what follows the end that is planned for, in England and Wales.
func after(all []end, c calendar.Calendar) []Date {
	if len(all) == 0 || c.Region() != "England" && c.Region() != "Wales" {
		return nil
	}
	schedule := all[0].on.AddDate(0, 0, scheduleDays)
	answer := schedule.AddDate(0, 0, answerDays)
	date := func(k Kind, on time.Time, what, because string) Date {
		return Date{Kind: k, For: all[0].kind, On: iso(on), What: what, Because: because}
	}
	return []Date{
		date(ScheduleDue, schedule, "The landlord's schedule and claim, if there is one, by about now", "56 days after the tenancy ends, by the protocol for claims at its end; longer where the matter is complex"),
		date(AnswerDue, answer, "Answer to the landlord's schedule, item by item", "56 days after the schedule, if it came on its last day: count from the day it really comes"),
		date(MeetingBy, answer.AddDate(0, 0, meetingDays), "The surveyors have met", "28 days after the answer"),
	}
}
