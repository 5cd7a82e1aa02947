package strip

import (
	"fmt"

	"unpick/domain/release"
)

// Changeovers counts how often the crew changes zone, access or tool between steps that take pieces out, beside
// numbers below which no order can be.
type Changeovers struct {
	Zone        int  `json:"zone"`
	ZoneLeast   int  `json:"zone_least"`
	Access      int  `json:"access"`
	AccessLeast int  `json:"access_least"`
	Tool        int  `json:"tool"`
	ToolLeast   int  `json:"tool_least"`
	Weighed     int  `json:"weighed" jsonschema_description:"all together, a zone counted four times and access twice"`
	Least       int  `json:"weighed_least" jsonschema_description:"no order comes to less"`
	Proven      bool `json:"fewest_proven,omitempty" jsonschema_description:"no order comes to less: every one was looked at or ruled out"`
}

// Words says the count beside what no order can be below, for a foreman.
func (c Changeovers) Words() string {
	words := fmt.Sprintf("between steps that take out: zone %d (at least %d), access %d (at least %d), tool %d (at least %d)", c.Zone, c.ZoneLeast, c.Access, c.AccessLeast, c.Tool, c.ToolLeast)
	switch {
	case c.Proven:
		return words + ": no order has fewer in all, a change of zone counted four times and of access twice"
	case c.Weighed > 0:
		return words + fmt.Sprintf(": %d in all, a change of zone counted four times and of access twice; no order can have fewer than %d", c.Weighed, c.Least)
	}
	return words
}

// changeovers counts between removals only: props and dead services are no choice of the order.
func (p *planner) changeovers() Changeovers {
	c := Changeovers{Proven: p.proven}
	var last *Step
	for i := range p.steps {
		s := &p.steps[i]
		if s.Kind != Remove {
			continue
		}
		if last != nil {
			c.Zone += differs(last.Zone, s.Zone)
			c.Access += differs(last.Access, s.Access)
			c.Tool += differs(last.Tool, s.Tool)
		}
		last = s
	}
	c.ZoneLeast, c.AccessLeast, c.ToolLeast = p.leastOf(func(s *spot) string { return s.Zone }), p.leastOf(func(s *spot) string { return string(s.Access) }), p.leastOf(func(s *spot) string { return s.Tool })
	c.Weighed = zoneWeighs*c.Zone + accessWeighs*c.Access + toolWeighs*c.Tool
	c.Least = max(p.least, zoneWeighs*c.ZoneLeast+accessWeighs*c.AccessLeast+toolWeighs*c.ToolLeast)
	c.Proven = c.Proven || c.Least == c.Weighed
	if c.Proven {
		c.Least = c.Weighed
	}
	return c
}

// leastOf is the bound of one dimension of the setup.
func (p *planner) leastOf(word func(*spot) string) int {
	known := map[string]int32{}
	ofRun := make([]int32, len(p.runs.runs))
	for i, x := range p.runs.runs {
		n, ok := known[word(x.spot)]
		if !ok {
			n = int32(len(known))
			known[word(x.spot)] = n
		}
		ofRun[i] = n
	}
	if len(known) < 2 {
		return 0
	}
	label := make([]int32, len(p.runs.runOf))
	for n, run := range p.runs.runOf {
		label[n] = -1
		if p.happens(int32(n)) {
			label[n] = ofRun[run]
		}
	}
	if p.order == nil {
		p.order = topological(p.graph)
	}
	return leastChanges(p.graph, p.order, label, len(known))
}

// search looks for an order of setups with less to change over than the runs come to by themselves. An order that a crew
// has in its hands is kept instead.
func (p *planner) search() {
	if p.keep != nil || len(p.graph.Nodes)+len(p.graph.Arcs) > mostToSearch {
		return
	}
	dry := newRuns(p.graph, p.runs.keyOf)
	p.leaveOut(dry)
	most, last := 0, (*run)(nil)
	front := release.NewFront(p.graph, dry.add)
	for {
		next, ok := dry.next()
		if !ok {
			break
		}
		if dry.now != last {
			most++
		}
		if last != nil {
			most += unit * weight(last.spot.setup, dry.now.spot.setup)
		}
		last = dry.now
		front.Done(next, dry.add)
	}
	if dry.left > 0 {
		return // a cycle: the walk itself will say so
	}
	p.runs.visits, p.least, p.proven = bestVisits(p.graph, p.runs, p.happens, most)
}

// leaveOut takes what does not happen out of the runs.
func (p *planner) leaveOut(r *runs) {
	for n, run := range r.runOf {
		if !p.happens(int32(n)) {
			r.runs[run].waiting--
			r.left--
		}
	}
}
