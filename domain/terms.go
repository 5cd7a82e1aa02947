package domain

// Terms is how giving the place back is priced beyond quantity times rate. Percentages have at most three decimals.
// The zero value adds nothing.
type Terms struct {
	PricedOn           string           `json:"priced_on,omitempty" jsonschema:"format=date" jsonschema_description:"the day at whose prices the figures are; needed for the cost at the break or the end of the term"`
	TaxName            string           `json:"tax_name,omitempty" jsonschema_description:"VAT, MwSt., sales tax"`
	TaxPercent         float64          `json:"tax_percent,omitempty" jsonschema:"minimum=0,maximum=100"`
	ContingencyPercent float64          `json:"contingency_percent,omitempty" jsonschema:"minimum=0,maximum=100" jsonschema_description:"of works and provisional sums"`
	YearlyPercent      float64          `json:"prices_rise_percent_a_year,omitempty" jsonschema:"minimum=0,maximum=100" jsonschema_description:"how much dearer a year, for the cost at the break or the end of the term"`
	Sums               []ProvisionalSum `json:"provisional_sums,omitempty" jsonschema_description:"sums set aside for what cannot be measured yet"`
}

// ProvisionalSum is money set aside for work that cannot be measured yet. It is always shown as one, never as a price.
type ProvisionalSum struct {
	What   string `json:"what"`
	Clause string `json:"clause,omitempty"`
	Amount int64  `json:"amount_minor" jsonschema:"minimum=0,maximum=100000000000" jsonschema_description:"in minor units of the fit-out's currency"`
	Note   string `json:"note,omitempty" jsonschema_description:"why it cannot be measured yet"`
}
