package fitoutfile

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	reflected "github.com/invopop/jsonschema"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"unpick/domain"
)

// mostFaults is how many faults are told at once: a person mends no more before trying again.
const mostFaults = 50

// rules are the schema made ready: one for the file without its lists, and one for the records of each list, so
// that a large file never stands in memory as a tree.
type rules struct {
	source  *reflected.Schema
	whole   *jsonschema.Schema
	records map[string]*jsonschema.Schema
}

func newRules() (*rules, error) {
	source := schemaOf(nil)
	text, err := json.Marshal(source)
	if err != nil {
		return nil, fmt.Errorf("writing the schema of the fit-out file: %w", err)
	}
	tree, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		return nil, fmt.Errorf("reading the schema of the fit-out file: %w", err)
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource(SchemaID, tree); err != nil {
		return nil, fmt.Errorf("taking the schema of the fit-out file: %w", err)
	}
	out := &rules{source: source, records: map[string]*jsonschema.Schema{}}
	if out.whole, err = c.Compile(SchemaID); err != nil {
		return nil, fmt.Errorf("compiling the schema of the fit-out file: %w", err)
	}
	for p := source.Properties.Oldest(); p != nil; p = p.Next() {
		if p.Value.Items == nil {
			continue
		}
		if out.records[p.Key], err = c.Compile(SchemaID + p.Value.Items.Ref); err != nil {
			return nil, fmt.Errorf("compiling the schema of %s: %w", p.Key, err)
		}
	}
	return out, nil
}

// check holds the text to the schema and answers every fault in the order of the text, up to mostFaults.
func (u *rules) check(l *layout) (domain.Errors, error) {
	top, err := l.withoutRecords()
	if err != nil {
		return nil, err
	}
	faults := u.faults(l, u.whole, top, "")
	for _, m := range l.members {
		schema := u.records[m.name]
		if !m.isList || schema == nil {
			continue
		}
		for i, at := range m.records {
			value, err := l.tree(at)
			if err != nil {
				return nil, err
			}
			if faults = append(faults, u.faults(l, schema, value, pointer(m.name, strconv.Itoa(i)))...); len(faults) > mostFaults {
				return shortened(faults), nil
			}
		}
	}
	return faults, nil
}

// withoutRecords is the file as a tree whose known lists are empty.
func (l *layout) withoutRecords() (map[string]any, error) {
	top := make(map[string]any, len(l.members))
	for _, m := range l.members {
		if m.isList {
			top[m.name] = []any{}
			continue
		}
		value, err := l.tree(m.value)
		if err != nil {
			return nil, err
		}
		top[m.name] = value
	}
	return top, nil
}

// tree is one value of the text as a tree, its numbers as they are written.
func (l *layout) tree(at span) (any, error) {
	decoder := json.NewDecoder(bytes.NewReader(l.data[at.from:at.to]))
	decoder.UseNumber()
	var value any
	if err := decoder.Decode(&value); err != nil {
		return nil, fmt.Errorf("reading bytes %d to %d of a fit-out file: %w", at.from, at.to, err)
	}
	return value, nil
}

// definition is the struct's schema that a place in the compiled schema belongs to, nil where it is none.
func (u *rules) definition(location string) *reflected.Schema {
	_, fragment, _ := strings.Cut(location, "#")
	if fragment == "" {
		return u.source
	}
	return u.source.Definitions[strings.TrimPrefix(fragment, "/$defs/")]
}

// shortened keeps the first faults and says that there are more.
func shortened(faults domain.Errors) domain.Errors {
	if len(faults) <= mostFaults {
		return faults
	}
	faults = faults[:mostFaults:mostFaults]
	faults.Addf(domain.Invalid, "", "there are more faults than these %d: mend them first", mostFaults)
	return faults
}
