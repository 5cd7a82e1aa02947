package fitoutfile

import (
	"encoding/json"
	"fmt"
	"maps"
	"path"
	"reflect"
	"slices"

	"github.com/invopop/jsonschema"

	"unpick/domain"
)

// SchemaID names the schema of this version of the format.
const SchemaID = "https://unpick.example/schema/fit-out-1.json"

// Schema is the JSON Schema (2020-12) of the fit-out file, made from the structs that read it. recipes gives a
// zero value of each recipe's parameters by its name, so that the parameters have a schema too.
func Schema(recipes map[string]any) ([]byte, error) {
	out, err := json.MarshalIndent(schemaOf(recipes), "", "  ")
	if err != nil {
		return nil, fmt.Errorf("writing the schema of the fit-out file: %w", err)
	}
	return append(out, '\n'), nil
}

func schemaOf(recipes map[string]any) *jsonschema.Schema {
	s := reflector().Reflect(&File{})
	s.ID = SchemaID
	s.Title = "unpick fit-out"
	s.Description = "One fit-out: what was built, what holds it, and the landlord's fabric that it touches. Lengths in millimetres, masses in kilograms, money in minor units."
	assembly := s.Definitions["Assembly"]
	for _, name := range slices.Sorted(maps.Keys(recipes)) {
		params := reflector().Reflect(recipes[name])
		maps.Copy(s.Definitions, params.Definitions)
		params.Version, params.ID, params.Definitions = "", "", nil
		s.Definitions["recipe:"+name] = params
		assembly.AllOf = append(assembly.AllOf, paramsOf(name))
	}
	for _, def := range s.Definitions {
		codeForm(def)
	}
	return s
}

// reflector makes a definition per struct. Structs of the domain go by their own name; those of a recipe have
// their package before it, so that two structs of one name never become one definition.
func reflector() *jsonschema.Reflector {
	home := reflect.TypeFor[domain.FitOut]().PkgPath()
	return &jsonschema.Reflector{
		ExpandedStruct: true,
		Anonymous:      true,
		Namer: func(t reflect.Type) string {
			if t.PkgPath() == home || t.Name() == "" {
				return t.Name()
			}
			return path.Base(t.PkgPath()) + "." + t.Name()
		},
		Mapper: func(t reflect.Type) *jsonschema.Schema {
			if t != reflect.TypeFor[domain.ElementKind]() {
				return nil
			}
			kinds := &jsonschema.Schema{Type: "string"}
			for _, k := range domain.ElementKinds() {
				kinds.Enum = append(kinds.Enum, string(k))
			}
			return kinds
		},
	}
}

// paramsOf says: where the recipe is this one, its parameters are these.
func paramsOf(recipe string) *jsonschema.Schema {
	named := jsonschema.NewProperties()
	named.Set("recipe", &jsonschema.Schema{Const: recipe})
	params := jsonschema.NewProperties()
	params.Set("params", &jsonschema.Schema{Ref: "#/$defs/recipe:" + recipe})
	return &jsonschema.Schema{
		If:   &jsonschema.Schema{Properties: named, Required: []string{"recipe"}},
		Then: &jsonschema.Schema{Properties: params},
	}
}

// codeForm gives a record's own code its form.
func codeForm(def *jsonschema.Schema) {
	if def.Properties == nil {
		return
	}
	if code, ok := def.Properties.Get("code"); ok && code.Type == "string" {
		code.Pattern = domain.CodePattern
	}
}
