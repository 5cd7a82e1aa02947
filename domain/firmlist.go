package domain

// FirmList is what a firm keeps for its next job, in any currency it works in. A job takes it over into its own register;
// what the firm changes later changes no job by itself.
type FirmList struct {
	Prices []FirmPrice `json:"prices"`     // in the order given
	Rates  []OwnRate   `json:"work_rates"` // in order of key
}

// FirmPrice is a price with its currency, and who kept it.
type FirmPrice struct {
	Price
	Currency string `json:"currency"`
	KeptBy   string `json:"kept_by"`
	KeptAt   string `json:"kept_at"` // RFC 3339, by the server's clock
}

// In are the newest prices of the list in one currency, by key; of two on one date the later given.
func (l FirmList) In(currency string) map[string]Price {
	var r Register
	for _, p := range l.Prices {
		if p.Currency == currency {
			r.Prices = append(r.Prices, p.Price)
		}
	}
	return r.PriceList()
}
