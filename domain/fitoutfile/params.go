package fitoutfile

import (
	"bytes"
	"encoding/json"
	"slices"
	"strconv"

	"unpick/domain"
)

// canonicalAssemblies is a copy of assemblies with every params in one form: compact, names in order of the
// alphabet, numbers as they were written. Two files that differ only in spacing give the same register.
func canonicalAssemblies(assemblies []domain.Assembly) ([]domain.Assembly, error) {
	out := slices.Clone(assemblies)
	for i, a := range out {
		params, err := canonicalParams(a.Params)
		if err != nil {
			return nil, domain.FieldErrorf(domain.Invalid, pointer("assemblies", strconv.Itoa(i), "params"),
				"the parameters of assembly %s are not JSON (%v): describe it again", a.Code, err)
		}
		out[i].Params = params
	}
	return out, nil
}

func canonicalParams(params json.RawMessage) (json.RawMessage, error) {
	if len(params) == 0 {
		return nil, nil
	}
	var value any
	decoder := json.NewDecoder(bytes.NewReader(params))
	decoder.UseNumber()
	if err := decoder.Decode(&value); err != nil {
		return nil, err
	}
	var out bytes.Buffer
	encoder := json.NewEncoder(&out)
	encoder.SetEscapeHTML(false)
	if err := encoder.Encode(value); err != nil {
		return nil, err
	}
	return bytes.TrimSpace(out.Bytes()), nil
}
