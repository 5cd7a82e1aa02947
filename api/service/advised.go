package service

import (
	"strings"

	"unpick/domain"
	"unpick/domain/advice"
)

// amending holds an amendment to what there is to say about it that was not so before, and keeps in the log and in the note of
// what is amended why it is done all the same. One that is refused anyhow, stale or against a rule, is left to that refusal:
// its places are better than advice on what cannot be stored.
func (c Consent) amending(r *domain.Register, change domain.Change, stale bool) (domain.Change, error) {
	if stale {
		return change, nil
	}
	change.Advice = advice.ForAmended(r, change.Add, change.Put)
	reason, err := c.toAny(change.Advice)
	if err != nil {
		rest, _ := r.Without(change.Put)
		if len(domain.Check(rest.With(change.Put).With(change.Add)).Beyond(domain.Check(r))) > 0 {
			return change, nil
		}
		return domain.Change{}, err
	}
	if reason != "" {
		change.What += reason
		note(change.Put, strings.TrimSpace(c.Reason))
	}
	return change, nil
}

// toAny refuses advice of severity stop and warning that nobody accepted: an amendment is answered with the record alone, so
// that what is only warned of would not be seen. Why it is not followed is wanted where it stops.
func (c Consent) toAny(said []domain.Advice) (string, error) {
	var against domain.Errors
	for _, a := range said {
		if a.Severity != domain.Note {
			against.Addf(domain.Refused, "", "%s: %s", a.Text, a.Mend)
		}
	}
	switch {
	case len(against) == 0 || c.DryRun:
		return "", nil
	case !c.Accept:
		against.Addf(domain.Refused, "/accept_advice", "do as advised, or say that it is so all the same, and why")
		return "", &Advised{said, against}
	}
	if _, err := c.to(said); err != nil { // stops want a reason
		return "", err
	}
	if strings.TrimSpace(c.Reason) == "" {
		return "; advice not followed", nil
	}
	return "; advice not followed: " + c.Reason, nil
}

// note keeps a reason with the records of the noun that is amended: what moves with a piece, or is drilled for a fixing, has its
// reason there.
func note(put domain.Records, reason string) {
	if reason == "" {
		return
	}
	keep := func(text *string) {
		if !strings.Contains(*text, reason) {
			*text = strings.TrimPrefix(*text+"; "+reason, "; ")
		}
	}
	switch {
	case len(put.Elements) > 0:
		for i := range put.Elements {
			keep(&put.Elements[i].Note)
		}
	case len(put.Fixings) > 0:
		for i := range put.Fixings {
			keep(&put.Fixings[i].Note)
		}
	default:
		for i := range put.Holes {
			keep(&put.Holes[i].Note)
		}
	}
}
