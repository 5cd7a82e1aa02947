// Package spec owns the contract of the API: openapi.yaml, and the Go generated from it.
//
// The idea: the document is written first; requests are checked against it before a handler runs, and tests check every
// answer against it. The generator lives in tools.mod, so that its modules stay out of go.mod.
//
// Looking for the contract: openapi.yaml; how it is turned into Go: config.yaml; the generated code: spec.gen.go.
package spec

import _ "embed"

// Contract is the document as it is written, YAML.
//
//go:embed openapi.yaml
var Contract []byte

//go:generate go tool -modfile=tools.mod oapi-codegen -config config.yaml openapi.yaml
