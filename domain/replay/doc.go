// Package replay is the second opinion: it checks a strip-out plan step by step against the register, with
// different code from the planner that made it. It imports nothing of ours but domain. A plan with one fault is
// never issued.
//
// The idea: reading the plan once gives every piece the tick at which it leaves and every fixing the tick at
// which it is undone. "X before Y" is then a comparison of two ticks, and "in place at that moment" is another,
// so that every rule is one plain pass over the register. Contact is derived again from the boxes. Whether each
// piece left still reaches the landlord's fabric is found by running the plan backwards: pieces come back one by
// one and join what already stands.
//
// Looking for
//
//   - the way in, and what a whole plan and a part of one must do: check.go
//   - a step as the checker sees it: step.go; what is reported, and every rule: fault.go
//   - the plan as ticks, pieces out twice, never or apart: timeline.go
//   - the register as numbers: site.go; who carries whom: carrying.go; resting read from boxes: bearing.go
//   - carried, held, clamped, sealed, interlocked, unserved: order.go; live services: service.go
//   - covered fixings: hidden.go, and where nobody knows the head: joint.go; the way out: trapped.go
//   - people who could fall off a deck: edge.go; a stud under a floor and what braces it: brace.go
//   - standing unheld: steady.go, under a head that slides: head.go; temporary support: prop.go; the path to ground, and what falls: ground.go, or hangs on one end: tips.go
//   - boxes, swept boxes and access lines: solid.go; finding the ones near: near.go, vicinity.go
package replay
