package domain

// SignOffKind says what was signed.
type SignOffKind string

// The kinds of sign-off.
const (
	WorkDone SignOffKind = "work-done" // pieces taken out, with the minutes that it really took
	HoldMet  SignOffKind = "hold"      // a hold: services proved dead, props in, survey seen
	ClosedUp SignOffKind = "closed-up" // what is hidden from now on was seen before it was covered

	Photographed SignOffKind = "photographed" // a photo of something, with who took it
	MadeGood     SignOffKind = "made-good"    // holes filled, films cleaned off

	PieceFound    SignOffKind = "found"          // pieces in somebody's hands, and what they are fit for
	WasteAssessed SignOffKind = "waste-assessed" // which of two mirror entries of the List of Waste pieces fall under
	HoleAgreed    SignOffKind = "hole-agreed"    // on a joint walk-round: the hole is as the register says
	HoleDisputed  SignOffKind = "hole-disputed"  // on a joint walk-round: it is not, and the note says how

	NoticeGiven SignOffKind = "notice-given" // a notice of the tenancy, on the day on which it was served
)

// SignOffKinds lists every kind, in the order above.
func SignOffKinds() []SignOffKind {
	return []SignOffKind{WorkDone, HoldMet, ClosedUp, Photographed, MadeGood, PieceFound, WasteAssessed, HoleAgreed, HoleDisputed, NoticeGiven}
}

// SignOff is what somebody put their name to on site, on a day. It is never changed: one that no longer holds is
// withdrawn by a later one.
type SignOff struct {
	Code           string      `json:"code"`
	Kind           SignOffKind `json:"kind" jsonschema:"enum=work-done,enum=hold,enum=closed-up,enum=photographed,enum=made-good,enum=found,enum=waste-assessed,enum=hole-agreed,enum=hole-disputed,enum=notice-given"`
	What           string      `json:"what" jsonschema_description:"what was signed, in the words that were shown"`
	Hold           string      `json:"hold,omitempty" jsonschema_description:"for a hold: which kind of hold"`
	About          []string    `json:"about,omitempty" jsonschema_description:"codes of the pieces, fixings, holes, assemblies or host surfaces concerned"`
	Withdraws      string      `json:"withdraws,omitempty" jsonschema_description:"code of an earlier one that no longer holds"`
	By             string      `json:"by" jsonschema_description:"name of who signed"`
	Role           string      `json:"role,omitempty"`
	On             string      `json:"on" jsonschema:"format=date"`
	Number         int         `json:"number,omitempty" jsonschema:"minimum=0" jsonschema_description:"of a walk-round: the hole's number on the map of its surface"`
	Minutes        int         `json:"minutes,omitempty" jsonschema:"minimum=0,maximum=100000" jsonschema_description:"for work done: minutes it really took"`
	People         int         `json:"people,omitempty" jsonschema:"minimum=0,maximum=1000"`
	PlannedMinutes int         `json:"planned_minutes,omitempty" jsonschema:"minimum=0,maximum=100000" jsonschema_description:"for work done: minutes that the plan gave it"`
	Photos         []string    `json:"photos,omitempty" jsonschema_description:"SHA-256 of each photo as it is kept"`
	NoPhoto        string      `json:"no_photo,omitempty" jsonschema_description:"for made good: why there is no photo of it"`
	Note           string      `json:"note,omitempty"`

	Found     PieceCondition `json:"found,omitempty" jsonschema:"enum=whole,enum=cut,enum=downgraded,enum=recycle,enum=waste" jsonschema_description:"for pieces found: what they are fit for"`
	UsableMm  int            `json:"usable_mm,omitempty" jsonschema:"minimum=0,maximum=100000" jsonschema_description:"for pieces found cut or downgraded: the length that is good; 0 is all of it"`
	WasteCode string         `json:"waste_code,omitempty" jsonschema_description:"for waste assessed: the List of Waste entry that was settled on"`

	Notice NoticeKind `json:"notice,omitempty" jsonschema:"enum=break,enum=leaving" jsonschema_description:"for a notice given: which"`
	Ends   string     `json:"ends,omitempty" jsonschema:"format=date" jsonschema_description:"for a notice given: the day on which it says that the tenancy ends"`
	How    string     `json:"how,omitempty" jsonschema_description:"for a notice given: by hand, by post, ..."`
}

// NoticeKind is which notice of a tenancy was given.
type NoticeKind string

// The notices of a tenancy.
const (
	BreakNotice   NoticeKind = "break"   // that the lease is broken on its break date
	LeavingNotice NoticeKind = "leaving" // that the tenant leaves at the end of the lease, or on another day
)

// NoticeKinds lists every notice, in the order above.
func NoticeKinds() []NoticeKind { return []NoticeKind{BreakNotice, LeavingNotice} }

// PieceCondition is what a piece is fit for once it is out.
type PieceCondition string

// The conditions of a piece, best first.
const (
	Whole      PieceCondition = "whole"      // as it went in
	Cut        PieceCondition = "cut"        // shorter: an end is spoilt, or it must be cut to leave
	Downgraded PieceCondition = "downgraded" // not where it shows, and not where it carries without a look
	Recycle    PieceCondition = "recycle"    // as material only
	Spent      PieceCondition = "waste"      // not even as material
)

// PieceConditions lists every condition of a piece, in the order above.
func PieceConditions() []PieceCondition {
	return []PieceCondition{Whole, Cut, Downgraded, Recycle, Spent}
}

// Signed are the sign-offs of a kind that still hold, in the order in which they were given.
func (r *Register) Signed(kind SignOffKind) []SignOff {
	withdrawn := make(map[string]bool)
	for _, s := range r.SignOffs {
		withdrawn[s.Withdraws] = true
	}
	var out []SignOff
	for _, s := range r.SignOffs {
		if s.Kind == kind && s.Withdraws == "" && !withdrawn[s.Code] {
			out = append(out, s)
		}
	}
	return out
}

// AboutOf is everything that sign-offs are about.
func AboutOf(signed []SignOff) map[string]bool {
	out := map[string]bool{}
	for _, s := range signed {
		for _, code := range s.About {
			out[code] = true
		}
	}
	return out
}

// Evidenced names who signed for a repair, when, and what shows it: the photo, or why there is none.
func (o SignOff) Evidenced() string {
	words := o.By + ", " + o.On
	switch {
	case len(o.Photos) > 0:
		for _, sum := range o.Photos {
			words += "; photo " + sum[:min(12, len(sum))]
		}
	case o.NoPhoto != "":
		words += "; no photo: " + o.NoPhoto
	default:
		words += "; no photo, and no reason given"
	}
	return words
}
