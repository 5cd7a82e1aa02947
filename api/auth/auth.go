// Package auth says who is asking and what they may do.
//
// The idea: there are no accounts yet. The program serves its own machine only, where whoever reaches it may do
// everything for the one firm there is; a request carries a name for the log and nothing else. Accounts, and firms
// beside each other, take this package's place without touching a handler.
//
// The one exception is a link: its secret opens one issue of one document and nothing else, for whoever has it.
//
// Looking for who is asking: this file; the secrets of links: token.go.
package auth

import (
	"context"

	"unpick/domain"
)

type actorKey struct{}

// With is ctx for a request that who makes.
func With(ctx context.Context, who domain.Actor) context.Context {
	return context.WithValue(ctx, actorKey{}, who)
}

// Who makes the request of ctx. It panics outside a request: every route passes the door that calls With.
func Who(ctx context.Context) domain.Actor {
	return ctx.Value(actorKey{}).(domain.Actor)
}
