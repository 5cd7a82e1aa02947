package answer

import "unpick/domain/issue"

// Standing is where each item of the last of these issues stands. issues are those of one document, the oldest first;
// said is everything said to any of them, in the order in which it was said. A statement that a rule of today refuses was
// taken when it was made: it stays history and moves nothing.
func Standing(issues []issue.Issue, said []Said) []Position {
	now, _ := follow(issues, said)
	return now
}

// Carry tells the changes of the last of these issues what was agreed as it went out and is so no more, and answers what is
// in it as it was agreed. What was said since counts neither way.
func Carry(changes []issue.Change, issues []issue.Issue, said []Said) []issue.Agreed {
	still := []issue.Agreed{}
	if len(issues) < 2 {
		return still
	}
	last := issues[len(issues)-1]
	said = until(said, last.Entry)
	_, was := follow(issues[:len(issues)-1], said)
	agreed := map[string]int64{} // by key: a number that is not in this issue is in no line of it
	for _, p := range was {
		if p.Settled() {
			agreed[p.Line.Key] = p.AgreedMinor
		}
	}
	for _, p := range carried(was, last) {
		if p.Settled() {
			delete(agreed, p.Line.Key)
			still = append(still, issue.Agreed{Number: p.Line.Number, What: p.Line.What, AgreedMinor: p.AgreedMinor})
		}
	}
	for i := range changes {
		c := &changes[i]
		if figure, ok := agreed[c.Key]; ok {
			c.AgreedMinor, c.Apart = &figure, last.Scope != ""
		}
	}
	return still
}

// follow is Standing, with where every item stands that was in any of the issues, by number.
func follow(issues []issue.Issue, said []Said) (now []Position, last map[int]Position) {
	if len(issues) == 0 {
		return nil, nil
	}
	byIssue := map[int][]Said{}
	history := map[int][]Said{} // by item
	for _, s := range said {
		byIssue[s.Issue] = append(byIssue[s.Issue], s)
		history[s.Item] = append(history[s.Item], s)
	}
	last = map[int]Position{} // by item, also of those that an issue of a part leaves out
	for i, is := range issues {
		now = carried(last, is)
		at := byNumber(now)
		for _, s := range byIssue[is.Number] {
			if n, ok := at[s.Item]; ok {
				_ = now[n].Say(s.Party, s.Statement) // see above
			}
		}
		for _, p := range now {
			was, known := last[p.Line.Number]
			if known && is.Scope != "" && len(issue.Differ(was.Line, p.Line, is.Currency)) > 0 {
				continue // a part words and counts what it leaves alone in its own way: the whole says where that stands
			}
			last[p.Line.Number] = p
		}
		if i == len(issues)-1 {
			for n := range now {
				now[n].History = history[now[n].Line.Number]
			}
		}
	}
	return now, last
}

// At is Standing as it was when the last of these issues went out: nothing that was said later counts.
func At(issues []issue.Issue, said []Said) []Position {
	return Standing(issues, until(said, issues[len(issues)-1].Entry))
}

// until is what was said before an entry of the log.
func until(said []Said, entry int64) []Said {
	var before []Said
	for _, s := range said {
		if s.Entry < entry {
			before = append(before, s)
		}
	}
	return before
}

// carried is where items stand as an issue goes out: an item that is as it was when it last went out keeps where it stood.
func carried(last map[int]Position, is issue.Issue) []Position {
	out := make([]Position, len(is.Lines))
	for i, l := range is.Lines {
		out[i] = Position{Line: l, State: Proposed}
		was, ok := last[l.Number]
		if !ok {
			continue
		}
		if len(issue.Differ(was.Line, l, is.Currency)) == 0 {
			was.Line, was.History = l, nil
			out[i] = was
			continue
		}
		if was.State != Proposed || was.Tenant != (Side{}) || was.Reset > 0 {
			out[i].Reset = is.Number
		}
	}
	return out
}
