// Package relocation lays both ends of a move on one calendar with one crew: taking out and making good at the place that
// is left, the loads, and putting up at the next.
//
// The idea: what is done at the old place is laid backwards from the day on which it has to be given back, the
// loads last, so that the next place is needed as late as can be and both rents run for as few days as can be; putting up
// is then laid forwards from the day of entry, in what the crew has left. The soonest programme is the same one, for the
// earliest day of giving back at which it fits. Every person of the crew is one line in time: nobody is in two places, and
// whoever changes place within a day has the way between. Beside each answer stands what no programme can better.
//
// Times are minutes of the crew's working day, day after day of the calendar, worked or not. "Today" is an argument.
//
// Looking for
//
//   - what a person sets: terms.go; the dates in the leases: dates.go
//   - what is handed in, and the pieces of work made of it: ends.go, jobs.go
//   - days and hours of both places: days.go; who and what is busy when: tracks.go
//   - one programme from one order: lay.go; searching for a better order: search.go
//   - what no programme can better: bound.go
//   - the answer, whole: relocation.go; what is paid twice: rent.go; the sentences: words.go
//   - the second opinion, which shares no code with the rest: check.go
package relocation
