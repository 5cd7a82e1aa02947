package plan_test

import (
	"flag"
	"os"
	"testing"
)

// TestMain has CI draw the same cases for the same code, so that a red run is the change's own; a developer's run
// draws new ones each time (raise -rapid.checks to look harder). What such a run finds becomes a case of its own.
func TestMain(m *testing.M) {
	flag.Parse()
	if seed := flag.Lookup("rapid.seed"); os.Getenv("CI") != "" && seed != nil && seed.Value.String() == seed.DefValue {
		if err := seed.Value.Set("20261125"); err != nil {
			panic(err)
		}
	}
	os.Exit(m.Run())
}
