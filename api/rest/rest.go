// Package rest holds the handlers of the JSON API: parse, one job of api/service, answer.
//
// The idea: the types of the contract (api/spec) and of the domain carry the same JSON names, so one turns into the other
// through JSON; a field that one side lacks is an error, which the tests find. A handler returns every error as it is:
// package api makes it a problem.
//
// Looking for
//
//   - what all handlers share: rest.go; pages of lists: page.go; what logging answers: logged.go
//   - one tag of the contract: fitouts.go, zones.go, hosts.go, assemblies.go, elements.go, fixings.go, holes.go, relations.go,
//     records.go, plan.go, salvage.go, documents.go, issues.go, log.go, program.go
package rest

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/url"
	"strconv"
	"strings"

	"unpick/api/service"
	"unpick/api/spec"
	"unpick/domain"
)

// Handlers answer every operation of the contract.
type Handlers struct {
	jobs     *service.Service
	contract json.RawMessage
	schemas  map[string]json.RawMessage
}

var _ spec.StrictServerInterface = (*Handlers)(nil)

// New makes the handlers; contract is the whole document as JSON.
func New(jobs *service.Service, contract []byte) (*Handlers, error) {
	schemas, err := allSchemas()
	if err != nil {
		return nil, err
	}
	return &Handlers{jobs: jobs, contract: contract, schemas: schemas}, nil
}

// turned is a value of the contract as one of the domain, or the other way round.
func turned[To any](from any) (To, error) {
	var to To
	text, err := json.Marshal(from)
	if err != nil {
		return to, fmt.Errorf("writing a %T: %w", from, err)
	}
	decoder := json.NewDecoder(bytes.NewReader(text))
	decoder.DisallowUnknownFields()
	if err := decoder.Decode(&to); err != nil {
		return to, fmt.Errorf("turning a %T into a %T: %w", from, to, err)
	}
	return to, nil
}

// one is what a job answered, turned into the contract's type.
func one[To, From any](from From, err error) (To, error) {
	if err != nil {
		return *new(To), err
	}
	return turned[To](from)
}

// etag names a version of a record.
func etag(version int) string { return `"` + strconv.Itoa(version) + `"` }

// versionIn is the version that If-Match names. What is not one of our tags matches nothing, and is stale.
func versionIn(match *string) (int, error) {
	if match != nil {
		text, opened := strings.CutPrefix(*match, `"`)
		text, closed := strings.CutSuffix(text, `"`)
		if version, err := strconv.Atoi(text); err == nil && opened && closed && version > 0 {
			return version, nil
		}
	}
	return 0, domain.FieldErrorf(domain.Stale, "header If-Match", `is no version of this record: send the ETag as it was read, like "3"`)
}

// location is the address of something in a fit-out.
func location(fitOut string, parts ...string) string {
	out := "/api/v1/fit-outs/" + url.PathEscape(fitOut)
	for _, part := range parts {
		out += "/" + url.PathEscape(part)
	}
	return out
}

func value[T any](p *T) T {
	if p == nil {
		return *new(T)
	}
	return *p
}
