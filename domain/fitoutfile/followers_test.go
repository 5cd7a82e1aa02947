package fitoutfile

import (
	"errors"
	"testing"

	"unpick/domain"
)

// TestPiecesOfWhatFailedAreFollowers: a piece that a failed recipe would have made is missing because of that, and not on its own.
func TestPiecesOfWhatFailedAreFollowers(t *testing.T) {
	t.Parallel()
	all := domain.Errors{}
	all.Addf(domain.Invalid, "/a", "there is no piece W3-B1a")
	all.Addf(domain.Invalid, "/b", `names "W3": it is not there`)
	all.Addf(domain.Invalid, "/c", "there is no piece W30-B1a")
	own, _ := errors.AsType[domain.Errors](withoutFollowers(all, map[string]bool{"W3": true}))
	if len(own) != 1 || own[0].Field != "/c" {
		t.Errorf("left over: %v, want the piece of W30 alone", own)
	}
}
