package plan

// Stage is what is being done of a plan, for somebody who waits: which of how many stages, and how far it is in it.
type Stage struct {
	Number int // 1 to Stages
	Done   int
	Of     int // what the stage goes through, 0 where nobody counts
}

// The stages of a plan, in order.
const (
	Reading    = iota + 1 // the register is loaded
	Linking               // what holds, carries and hides what
	Ordering              // the steps
	Checking              // every step against the register, by other code
	Accounting            // every hole to its repair; the schedule; what comes apart
	Stages     = Accounting
)

// Name says what a stage does, in words.
func (s Stage) Name() string {
	return [...]string{"", "reading the register", "finding what holds, carries and hides what", "putting the pieces in order",
		"checking every step against the register", "accounting for every hole, and writing the schedule"}[s.Number]
}

// Counts names what a stage goes through.
func (s Stage) Counts() string {
	return [...]string{"", "", "pieces and sets of fixings", "pieces", "steps", "sets of holes"}[s.Number]
}

func (o Options) tell(stage, done, of int) {
	if o.Tell != nil {
		o.Tell(Stage{stage, done, of})
	}
}
