package detachability

import "math"

// Score is the four factors of one product, each from the published table, and what they come to. All lie from 0.1,
// which cannot be taken apart, to 1, which comes apart freely.
//
// Source: DGBC and partners, "Circular Buildings: een meetmethodiek voor losmaakbaarheid", version 2.0 (2021): factor
// names and the choice among several connections as explained at milieubewustisoleren.be/losmaakbaarheid; the tables and
// the harmonic means as encoded in a public data file of the method. The report itself was not read.
type Score struct {
	Connection    float64 `json:"type_of_connection"`
	Accessibility float64 `json:"accessibility"`
	Independency  float64 `json:"independency"`
	Edge          float64 `json:"edge_geometry"`
	OfConnection  float64 `json:"connection_index" jsonschema_description:"harmonic mean of type of connection and accessibility"`
	OfComposition float64 `json:"composition_index" jsonschema_description:"harmonic mean of independency and edge geometry"`
	Product       float64 `json:"detachability_index" jsonschema_description:"harmonic mean of the connection and the composition, the published index of one product"`
}

// The scores of accessibility.
const (
	Free           = 1.0 // nothing else is touched
	NoDamage       = 0.8 // extra actions, no damage
	Repairable     = 0.6 // extra actions, damage fully repairable
	PartRepairable = 0.4 // extra actions, damage partly repairable
	NotAccessible  = 0.1 // beyond repair to the piece or its neighbours
)

// The scores of independency.
const (
	NoCrossing = 1.0
	Crossing   = 0.4 // occasional crossing of one layer by another
	Integrated = 0.1
)

// The scores of the geometry of the product's edge.
const (
	Open        = 1.0 // nothing in the way
	Overlapping = 0.4 // partly in the way
	Closed      = 0.1 // wholly in the way
)

// Loose is the type of connection of what lies or stands without any fixing.
const Loose = 1.0

// Of joins four factors as published: harmonic means of the two pairs, and of those. Each factor must be over 0.
func Of(connection, accessibility, independency, edge float64) Score {
	s := Score{Connection: connection, Accessibility: accessibility, Independency: independency, Edge: edge}
	c, k := harmonic(connection, accessibility), harmonic(independency, edge)
	s.OfConnection, s.OfComposition, s.Product = rounded(c), rounded(k), rounded(harmonic(c, k))
	return s
}

// Exact is the product's index before it is rounded.
func (s Score) Exact() float64 {
	return harmonic(harmonic(s.Connection, s.Accessibility), harmonic(s.Independency, s.Edge))
}

func harmonic(a, b float64) float64 { return 2 / (1/a + 1/b) }

// rounded gives four decimals, as many as the published scores can bear and more than a reader needs.
func rounded(x float64) float64 { return math.Round(x*1e4) / 1e4 }
