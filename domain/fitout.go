package domain

// FirmID and FitOutID are the database's keys. A register read from a file has neither.
type (
	FirmID   int64
	FitOutID int64
)

// FitOut is one tenant's works in one premises: the unit of everything else.
type FitOut struct {
	ID       FitOutID `json:"-"`
	UID      string   `json:"-"` // a UUID that no other fit-out has, in any installation; one read from a file has none
	Code     string   `json:"code" jsonschema_description:"short code of the fit-out"`
	Name     string   `json:"name"`
	Premises Premises `json:"premises"`
	Tenant   string   `json:"tenant,omitempty"`
	Landlord string   `json:"landlord,omitempty"`
	Firm     string   `json:"firm,omitempty" jsonschema_description:"the contractor"`
	Currency string   `json:"currency" jsonschema:"pattern=^[A-Z]{3}$" jsonschema_description:"ISO 4217 code"`
	Calendar Calendar `json:"calendar,omitzero"`
	Crew     Crew     `json:"crew,omitzero"`
	Tenancy  Tenancy  `json:"tenancy,omitzero"`
	NotBuilt bool     `json:"not_built_yet,omitempty" jsonschema_description:"a layout of the next premises: its pieces are wanted, not there"`
	Terms    Terms    `json:"pricing,omitzero" jsonschema_description:"what the firm adds to quantity times rate"`
	Exits    []Exit   `json:"exits,omitempty" jsonschema_description:"openings that a piece must pass to leave"`
	LinkBase string   `json:"link_base,omitempty" jsonschema_description:"address at which phones reach this program, as https://register.example: the QR codes on labels open pieces there; without one they hold the code itself"`
	Version  int      `json:"version,omitempty" jsonschema:"minimum=0"`
}

// Premises is the landlord's unit.
type Premises struct {
	Address   string `json:"address,omitempty"`
	BuiltYear int    `json:"built_year,omitempty" jsonschema:"minimum=0,maximum=3000" jsonschema_description:"0 where nobody knows: asbestos is then possible"`
	Survey    string `json:"asbestos_survey,omitempty" jsonschema_description:"reference of the refurbishment and demolition survey seen"`
}

// Crew is who does the strip-out.
type Crew struct {
	People int       `json:"people,omitempty" jsonschema:"minimum=0,maximum=1000" jsonschema_description:"0 reads as 2"`
	Access []string  `json:"access,omitempty" jsonschema_description:"access equipment there is: steps, tower, board-lifter"`
	Rates  []OwnRate `json:"work_rates,omitempty" jsonschema_description:"the crew's own minutes, in place of the catalogue's"`
}

// OwnRate is what one job takes this crew, where that is not what the catalogue has.
type OwnRate struct {
	Key     string  `json:"key" jsonschema_description:"of a work rate of the catalogue: take-down-stud"`
	Minutes float64 `json:"minutes" jsonschema:"exclusiveMinimum=0,maximum=10000" jsonschema_description:"person-minutes for one of the catalogue's unit"`
}

// Size is how many people there are, two where nothing is said.
func (c Crew) Size() int {
	if c.People == 0 {
		return 2
	}
	return c.People
}

// Tenancy is what the lease and the licence say. Dates are ISO 8601, "" where there is none.
type Tenancy struct {
	Start          string        `json:"start,omitempty" jsonschema:"format=date"`
	BreakDate      string        `json:"break_date,omitempty" jsonschema:"format=date"`
	BreakVacant    bool          `json:"break_needs_vacant_possession,omitempty"`
	Expiry         string        `json:"expiry,omitempty" jsonschema:"format=date"`
	NoticeMonths   int           `json:"notice_months,omitempty" jsonschema:"minimum=0,maximum=120"`
	Licence        string        `json:"licence,omitempty" jsonschema_description:"reference of the licence to alter"`
	LicenceDate    string        `json:"licence_date,omitempty" jsonschema:"format=date"`
	Clause         string        `json:"reinstatement_clause,omitempty"`
	Standard       string        `json:"reinstatement_standard,omitempty" jsonschema_description:"what the clause asks for, in its own words or a summary"`
	Items          []LicenceItem `json:"licence_items,omitempty" jsonschema_description:"what the licence allows, item by item"`
	Conditions     []string      `json:"licence_conditions,omitempty" jsonschema_description:"conditions of the licence, in its own words or a summary"`
	LeaveByConsent string        `json:"leave_by_consent,omitempty" jsonschema_description:"what the landlord has agreed in writing may stay"`

	ContingencyDays int `json:"contingency_working_days,omitempty" jsonschema:"minimum=0,maximum=250" jsonschema_description:"working days kept in hand before the place is given back"`
}

// Exit is an opening that a piece must pass to leave.
type Exit struct {
	Code     string `json:"code"`
	Name     string `json:"name"`
	WidthMm  int    `json:"width_mm" jsonschema:"minimum=1,maximum=100000"`
	HeightMm int    `json:"height_mm" jsonschema:"minimum=1,maximum=100000"`
	ReachMm  int    `json:"reach_mm,omitempty" jsonschema:"minimum=0,maximum=1000000" jsonschema_description:"longest piece that can be turned into it; 0 is no limit"`
}

// Zone is a room or area.
type Zone struct {
	Code     string  `json:"code"`
	Name     string  `json:"name"`
	Outline  []Point `json:"outline,omitempty" jsonschema_description:"corners on plan, at floor level"`
	LevelMm  int     `json:"level_mm,omitempty" jsonschema_description:"floor level people stand on"`
	Capacity int     `json:"capacity,omitempty" jsonschema:"minimum=0,maximum=1000" jsonschema_description:"people who can work in it at once; 0 is no limit"`
	Version  int     `json:"version,omitempty" jsonschema:"minimum=0"`
}

// ShareDowngraded is the key of the one price that is no money: what a downgraded piece is worth of a new one, in
// percent.
const ShareDowngraded = "share:downgraded"

// Price is one figure of the firm's own price list. There are no default prices: a cost without its price says
// "no rate" and gives no total.
type Price struct {
	Key    string `json:"key" jsonschema_description:"what it prices: labour-hour, repair:<slug>, material:<code>, material:<code>/<length>, material:<code>/<length>x<width>, fixing:<type>, fixing:<type>/<length>, waste:<code>, prelim:<name>, share:downgraded"`
	Amount int64  `json:"amount_minor" jsonschema:"minimum=0,maximum=1000000000" jsonschema_description:"in minor units of the fit-out's currency; of share:downgraded whole percent of the price new"`
	Unit   string `json:"unit" jsonschema_description:"hour, hole, m, m2, kg, piece, item; of a fixing a pack too, as box of 200; of share:downgraded percent"`
	Since  string `json:"since,omitempty" jsonschema:"format=date"`
	Note   string `json:"note,omitempty"`
}
