package plan

import (
	"encoding/json"
	"fmt"

	"github.com/invopop/jsonschema"
)

// Schema is the JSON Schema (2020-12) of plan.json, made from the structs that write it.
func Schema() ([]byte, error) {
	reflector := jsonschema.Reflector{ExpandedStruct: true}
	s := reflector.Reflect(&Plan{})
	s.ID = "https://unpick.example/schema/plan-1.json"
	s.Title = "unpick plan"
	s.Description = "Everything computed from one fit-out's register. Lengths in millimetres, masses in kilograms, money in minor units of the fit-out's currency, durations in minutes."
	out, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("writing the plan's schema: %w", err)
	}
	return append(out, '\n'), nil
}
