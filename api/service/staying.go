package service

import (
	"sync"

	"unpick/domain"
	"unpick/domain/move"
	"unpick/domain/plan"
)

// staying is what giving a place back would still owe where everything stays by agreement: a second plan of the place, made
// when a move first asks for it, and kept with the plan that it stands beside.
type staying struct {
	once sync.Once
	owed *move.Owed // nil where that cannot be
	why  string     // it cannot
	err  error
}

func (k *staying) of(r *domain.Register) (*move.Owed, string, error) {
	k.once.Do(func() {
		p, err := plan.Make(r.Agreeing(r.AllStaying("left by agreement")))
		switch domain.CodeOf(err) {
		case domain.Refused, domain.Unclean, domain.Cycle: // what stays hangs on what comes out: said, and the other ways still stand
			k.why = err.Error()
			return
		}
		if k.err = err; err == nil {
			owed := move.OwedBy(p.Schedule, p.MakingGood)
			k.owed = &owed
		}
	})
	return k.owed, k.why, k.err
}
