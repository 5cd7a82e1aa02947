package domain

import "encoding/json"

// Assembly is what one recipe built: a wall, a mezzanine floor, a ceiling, a door set. Params are the recipe's
// parameters as they were given, so that it can be amended or described again for the next premises.
type Assembly struct {
	Code       string          `json:"code"`
	Name       string          `json:"name"`
	Recipe     string          `json:"recipe,omitempty" jsonschema_description:"stud-wall, lining, mezzanine, ceiling, door-set, trim, insulation, seal, service-run; empty for loose pieces"`
	Params     json.RawMessage `json:"params,omitempty" jsonschema:"type=object" jsonschema_description:"the recipe's parameters; see the schema of that recipe"`
	Zone       string          `json:"zone,omitempty"`
	Builder    string          `json:"builder,omitempty"`
	BuiltOrder int             `json:"built_order,omitempty" jsonschema:"minimum=0"`
	Licensed   string          `json:"licensed,omitempty" jsonschema_description:"item of the licence that allows it; empty is not licensed"`
	Known      Known           `json:"known,omitempty" jsonschema:"enum=seen,enum=measured,enum=assumed,enum=unknown" jsonschema_description:"how all of it is known where it was entered from a survey: its pieces, fixings and holes take it over"`
	Owner      Owner           `json:"owner,omitempty" jsonschema:"enum=tenant,enum=landlord,enum=hired"`
	LeftBy     string          `json:"left_by_consent,omitempty" jsonschema_description:"reference of the landlord's written consent that it may stay; empty comes out"`
	Struck     bool            `json:"struck,omitempty" jsonschema_description:"all of it was struck out: left out, or logged by mistake"`
	Reason     string          `json:"reason,omitempty" jsonschema_description:"why it was struck"`
	Note       string          `json:"note,omitempty"`
	Version    int             `json:"version,omitempty" jsonschema:"minimum=0"`
}
