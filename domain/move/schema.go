package move

import (
	"encoding/json"
	"fmt"
	"reflect"

	"github.com/invopop/jsonschema"

	"unpick/domain/relocation"
)

// Moves is what move.json holds: one plan for each layout that was asked for, in the order asked.
type Moves struct {
	Items []*Plan `json:"items"`
}

// Schema is the JSON Schema (2020-12) of move.json, made from the structs that write it.
func Schema() ([]byte, error) {
	reflector := jsonschema.Reflector{ExpandedStruct: true, Namer: schemaName}
	s := reflector.Reflect(&Moves{})
	s.ID = "https://unpick.example/schema/move-1.json"
	s.Title = "unpick move"
	s.Description = "What becomes what when a fit-out moves to its next premises, for each layout asked about. Lengths in millimetres, masses in kilograms, money in minor units of the currency, durations in minutes."
	out, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("writing the move's schema: %w", err)
	}
	return append(out, '\n'), nil
}

// schemaName keeps apart what the programme of both ends and the move have under one name.
func schemaName(t reflect.Type) string {
	if t.PkgPath() == reflect.TypeFor[relocation.Terms]().PkgPath() {
		return "Programme" + t.Name()
	}
	return t.Name()
}
