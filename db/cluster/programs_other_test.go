//go:build !unix

package cluster

import "context"

// programs is empty: the tests of several programs need signals.
var programs map[string]func(context.Context) error
