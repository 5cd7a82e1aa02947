package timetable

// notOverNight moves a lift that would be left half done at the end of a day to the next morning, with every step that
// starts when it does or later. What began before goes on as it was, so whoever was waited for is still done in time,
// and no moment has more work in it than one of the programme had. A lift longer than a day cannot be kept whole. entries
// are in order of their start.
func notOverNight(entries []Entry, dayMinutes int) {
	for i := range entries {
		e := &entries[i]
		left := dayMinutes - e.StartMinute%dayMinutes
		long := e.EndMinute - e.StartMinute
		if !e.Lift || long <= left || long > dayMinutes {
			continue
		}
		at := e.StartMinute
		for k := range entries {
			if entries[k].StartMinute >= at {
				entries[k].StartMinute += left
				entries[k].EndMinute += left
			}
		}
	}
}
