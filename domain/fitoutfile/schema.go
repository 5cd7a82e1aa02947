package fitoutfile

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"

	"github.com/invopop/jsonschema"
)

// Schema is the JSON Schema (2020-12) of the fit-out file, made from the structs that read it. recipes gives a
// zero value of each recipe's parameters by its name, so that the parameters have a schema too.
func Schema(recipes map[string]any) ([]byte, error) {
	s := (&jsonschema.Reflector{ExpandedStruct: true}).Reflect(&File{})
	s.ID = "https://unpick.example/schema/fit-out-1.json"
	s.Title = "unpick fit-out"
	s.Description = "One fit-out: what was built, what holds it, and the landlord's fabric that it touches. Lengths in millimetres, masses in kilograms, money in minor units."
	assembly := s.Definitions["Assembly"]
	for _, name := range slices.Sorted(maps.Keys(recipes)) {
		params := (&jsonschema.Reflector{ExpandedStruct: true, Anonymous: true}).Reflect(recipes[name])
		for def, schema := range params.Definitions {
			if _, taken := s.Definitions[def]; !taken {
				s.Definitions[def] = schema
			}
		}
		params.Version, params.ID, params.Definitions = "", "", nil
		s.Definitions["recipe:"+name] = params
		named := jsonschema.NewProperties()
		named.Set("recipe", &jsonschema.Schema{Const: name})
		then := jsonschema.NewProperties()
		then.Set("params", &jsonschema.Schema{Ref: "#/$defs/recipe:" + name})
		assembly.AllOf = append(assembly.AllOf, &jsonschema.Schema{
			If: &jsonschema.Schema{Properties: named, Required: []string{"recipe"}}, Then: &jsonschema.Schema{Properties: then}})
	}
	out, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("writing the schema of the fit-out file: %w", err)
	}
	return append(out, '\n'), nil
}
