package replay

import (
	"fmt"

	"unpick/domain"
)

// checkServices reports services that are touched before they are proved dead: the service itself or one of its
// fixings, and, for the landlord's that stays, a piece that it runs through.
func (c *checker) checkServices() {
	touched := fill(len(c.in), never)
	service := make([]bool, len(c.in))
	for e := range c.in {
		service[e] = c.in[e] && c.register.Elements[e].Kind.IsService()
		touched[e] = c.leave[e]
	}
	for i := range c.related {
		if x := &c.related[i]; x.kind == domain.RunsThrough {
			service[x.from] = true
			if c.stays[x.from] {
				touched[x.from] = min(touched[x.from], c.leave[x.to])
			}
		}
	}
	for f := range c.fixed {
		if holds := c.fixed[f].holds; holds != none && c.in[holds] && c.fixed[f].in {
			touched[holds] = min(touched[holds], c.undone[f])
		}
	}
	for e := range c.in {
		if service[e] && touched[e] < never && c.dead[e] > touched[e] {
			c.report(touched[e], Live, c.code(int32(e)), fmt.Sprintf("%s is touched before it is proved dead: put that step first", c.called(int32(e))))
		}
	}
}
