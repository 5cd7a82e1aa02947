package db

import (
	"errors"
	"regexp"
	"strings"

	"github.com/jackc/pgx/v5/pgconn"

	"unpick/domain"
)

// refusal is what a person is told when a constraint is broken. A %s in it stands for the codes concerned.
type refusal struct {
	code     domain.Code
	sentence string
}

// refusals has a sentence for every named constraint in migrations/*.sql that a change can break.
var refusals = map[string]refusal{
	"zones_key":          taken,
	"hosts_key":          taken,
	"assemblies_key":     taken,
	"elements_key":       taken,
	"fixings_key":        taken,
	"holes_key":          taken,
	"relations_key":      taken,
	"one_code_one_thing": taken,
	"sign_offs_key":      taken,
	"fit_outs_code_once": {domain.Exists, "there is a fit-out with the code %s: choose another code"},

	"fit_outs_code_given":   codeless,
	"zones_code_given":      codeless,
	"hosts_code_given":      codeless,
	"assemblies_code_given": codeless,
	"elements_code_given":   codeless,
	"fixings_code_given":    codeless,
	"holes_code_given":      codeless,
	"relations_code_given":  codeless,
	"sign_offs_code_given":  codeless,

	"hosts_zone_known":           dangling("a host surface", "zone"),
	"assemblies_zone_known":      dangling("an assembly", "zone"),
	"elements_zone_known":        dangling("an element", "zone"),
	"elements_assembly_known":    dangling("an element", "assembly"),
	"fixings_holds_known":        dangling("a fixing", "element to hold"),
	"fixings_into_element_known": dangling("a fixing", "element to go into"),
	"fixings_into_host_known":    dangling("a fixing", "host surface to go into"),
	"fixings_through_known":      dangling("a fixing", "element to pass through"),
	"fixings_assembly_known":     dangling("a fixing", "assembly"),
	"holes_host_known":           dangling("a hole", "host surface"),
	"holes_fixing_known":         dangling("a hole", "fixing"),
	"holes_assembly_known":       dangling("a hole", "assembly"),
	"relations_from_known":       dangling("a relation", "element to start from"),
	"relations_to_known":         dangling("a relation", "element (or host surface to bear on, or fixing to hide) to lead to"),
	"relations_assembly_known":   dangling("a relation", "assembly"),
	"sign_offs_about_known":      dangling("a sign-off", "piece, fixing, hole, assembly or host surface to be about"),
	"sign_offs_withdraws_known":  dangling("a sign-off", "earlier sign-off to withdraw"),
	"fit_out_known":              {domain.NotFound, "there is no such fit-out"},

	"elements_struck_reason":   reasonless,
	"fixings_struck_reason":    reasonless,
	"holes_struck_reason":      reasonless,
	"relations_struck_reason":  reasonless,
	"hosts_struck_reason":      reasonless,
	"assemblies_struck_reason": reasonless,

	"fixings_one_target":            {domain.Invalid, "a fixing goes into exactly one thing: give into_element or into_host, not both"},
	"fixings_not_into_itself":       {domain.Invalid, "a fixing cannot go into the element that it holds: name the element or the host surface behind it"},
	"holes_counted_once":            {domain.Refused, "%s would have more holes in use in one face than it has fixings: a hole face is counted once"},
	"holes_in_use_by_fixing":        {domain.Invalid, "a hole in use needs the fixing that uses it: name the fixing, or give the hole another state"},
	"relations_not_to_itself":       {domain.Invalid, "a relation leads from one element to another thing: name two different codes"},
	"never_deleted":                 {domain.Refused, "what was logged is never deleted: strike it out with a reason"},
	"never_changed":                 {domain.Refused, "what was logged is never changed: log what is right now"},
	"code_never_changes":            {domain.Refused, "%s keeps its code: strike it out and log it again under the other code"},
	"version_rises":                 {domain.Stale, "%s was changed by somebody else: read it again and repeat the change"},
	"log_is_a_chain":                {domain.Stale, "somebody else has just written to the log: try again"},
	"log_who_given":                 {domain.Invalid, "the log needs to know who makes the change: give a name"},
	"log_what_given":                {domain.Invalid, "the log needs to know what was changed: give a sentence"},
	"log_kind_known":                {domain.Invalid, "a change appends, amends or strikes: give one of these kinds"},
	"fit_outs_name_given":           {domain.Invalid, "a fit-out needs a name"},
	"fit_outs_currency_code":        {domain.Invalid, "the currency is three capital letters, as in ISO 4217"},
	"fit_outs_starts_at_time":       {domain.Invalid, "the start of work is a time like 07:30"},
	"fit_outs_expiry_after_start":   {domain.Invalid, "the tenancy expires before it starts: mend one of the dates"},
	"sign_offs_found_known":         {domain.Invalid, "a piece is found whole, cut, downgraded, recycle or waste, and only a sign-off of kind found says so"},
	"sign_offs_waste_assessed":      {domain.Invalid, "a waste code is signed by a sign-off of kind waste-assessed, and by no other"},
	"sign_offs_usable_fits":         {domain.Invalid, "a usable length is 0 to 100000 mm"},
	"fit_outs_link_base_fits":       {domain.Invalid, "the address for labels has at most 100 letters and begins with http:// or https://"},
	"fit_outs_contingency_days_fit": {domain.Invalid, "the working days kept in hand are 0 to 250"},
	"fit_outs_exits_positive":       {domain.Invalid, "an exit needs a width and a height in millimetres, both more than 0"},
	"fit_outs_figures_not_negative": {domain.Invalid, "the year built, people, months of notice and minutes of a working day (at most 1440) cannot be negative"},

	"photos_sha256_of_content": {domain.Invalid, "the photo does not hold what its name says: send it again"},
	"photos_size_positive":     {domain.Invalid, "a photo is at least one dot wide and high"},
	"photos_place_asked_for":   {domain.Invalid, "where a photo was taken is kept only when that was asked for"},
	"photos_place_on_globe":    {domain.Invalid, "where a photo was taken lies between 90 and 180 degrees"},
	"photo_places_on_globe":    {domain.Invalid, "where a photo was taken lies between 90 and 180 degrees"},
	"photo_places_by_given":    {domain.Invalid, "a photo needs the name of who sent it"},
	"photos_by_given":          {domain.Invalid, "a photo needs the name of who sent it"},

	"sign_offs_kind_known":           {domain.Invalid, "a sign-off has a kind that this program does not know"},
	"sign_offs_what_given":           {domain.Invalid, "a sign-off needs what was signed, in words"},
	"sign_offs_by_given":             {domain.Invalid, "a sign-off needs the name of who signed"},
	"sign_offs_withdrawn_once":       {domain.Refused, "that sign-off has been withdrawn already"},
	"sign_offs_figures_not_negative": {domain.Invalid, "minutes and people of a sign-off cannot be negative"},

	"issues_key":                   {domain.Stale, "somebody else has just issued this document: look at it again, then issue it"},
	"issues_count_up":              {domain.Stale, "somebody else has just issued this document: look at it again, then issue it"},
	"issues_number_positive":       {domain.Invalid, "issues are numbered from 1"},
	"issues_sha256_of_content":     {domain.Invalid, "the document does not hold what its hash says: issue it again"},
	"issues_head_hash":             {domain.Invalid, "an issue needs the hash of the head of the log"},
	"issues_logged_behind_head":    {domain.Stale, "somebody has logged something since this document was made: look at it again, then issue it"},
	"issues_sent_to_somebody":      {domain.Invalid, "say who it goes to: an issue that went to nobody anchors nothing"},
	"issues_print_whole":           {domain.Invalid, "an issue in print has a name, a kind and a hash: issue the document again"},
	"issues_print_sha256_of_print": {domain.Invalid, "the print does not hold what its hash says: issue the document again"},
	"issues_by_given":              {domain.Invalid, "an issue needs the name of who sends it"},
	"item_numbers_key":             {domain.Refused, "an item keeps its number from issue to issue: make the document again"},
	"item_numbers_once":            {domain.Refused, "the number of an item is not given twice: make the document again"},
	"item_numbers_positive":        {domain.Invalid, "items are numbered from 1"},

	"returned_sha256_of_content":     {domain.Invalid, "the workbook does not hold what its hash says: send it again"},
	"returned_party_known":           partyless,
	"returned_by_given":              {domain.Invalid, "a workbook that came back needs the name of who read it in"},
	"statements_item_known":          {domain.Invalid, "there is no such item in this document"},
	"statements_party_known":         partyless,
	"statements_verdict_known":       {domain.Invalid, "an answer is agreed, disputed or done"},
	"statements_figure_not_negative": {domain.Invalid, "a figure is not negative"},
	"statements_say_something":       {domain.Invalid, "nothing is said to an item: give an answer, a figure or remarks"},
	"statements_by_given":            {domain.Invalid, "an answer needs the name of who gives it"},

	"links_for_given": {domain.Invalid, "a link needs the name of whom it is for"},
	"links_by_given":  {domain.Invalid, "a link needs the name of who makes it"},
	"links_expire":    {domain.Invalid, "a link ends after it is made: give it at least a day"},

	"zones_capacity_not_negative":   {domain.Invalid, "the capacity of a zone cannot be negative: 0 is no limit"},
	"hosts_kind_given":              {domain.Invalid, "a host surface needs its kind from the catalogue"},
	"hosts_extent_positive":         {domain.Invalid, "a host surface needs its extent in millimetres, both ways more than 0"},
	"hosts_limits_not_negative":     {domain.Invalid, "thickness, agreed holes and largest hole of a host surface cannot be negative"},
	"hosts_finish_m2_fits":          {domain.Invalid, "the finish of a host surface is 0 to 1,000,000 square metres"},
	"hosts_axes_point":              {domain.Invalid, "the axes of a host surface must point somewhere: give U and V"},
	"hosts_rule_known":              {domain.Invalid, "the fixing rule of a host surface is allowed, ask or never"},
	"hosts_known_known":             unseen,
	"assemblies_order_not_negative": disordered,
	"assemblies_owner_known":        ownerless,
	"elements_kind_given":           {domain.Invalid, "an element needs its kind"},
	"elements_size_positive":        {domain.Invalid, "an element needs its length, width and thickness in millimetres, all more than 0"},
	"elements_mass_not_negative":    {domain.Invalid, "the mass of an element cannot be negative: 0 takes it from the material"},
	"elements_order_not_negative":   disordered,
	"elements_axes_point":           {domain.Invalid, "an element must lie somewhere: give the directions of its length and width"},
	"elements_cuts_possible":        {domain.Invalid, "an end cut lies between -89 and 89 degrees"},
	"elements_owner_known":          ownerless,
	"elements_known_known":          unseen,
	"elements_state_known":          {domain.Invalid, "an element is in-place, taken-down, stored, re-used, disposed or struck"},
	"fixings_type_given":            {domain.Invalid, "a fixing needs its type from the catalogue"},
	"fixings_count_positive":        {domain.Invalid, "a fixing needs a count of at least 1"},
	"fixings_lengths_not_negative":  {domain.Invalid, "the length of a fixing or bead cannot be negative: 0 is not known"},
	"fixings_order_not_negative":    disordered,
	"fixings_state_known":           {domain.Invalid, "a fixing is in-place, undone or struck"},
	"fixings_known_known":           unseen,
	"holes_count_positive":          {domain.Invalid, "a set of holes needs a count of at least 1"},
	"holes_diameter_positive":       {domain.Invalid, "a hole needs its diameter in millimetres, more than 0"},
	"holes_depth_or_through":        {domain.Invalid, "a hole needs its depth in millimetres, or to go right through"},
	"holes_order_not_negative":      disordered,
	"holes_face_known":              {domain.Invalid, "a hole is in the front or the back face"},
	"holes_state_known":             {domain.Invalid, "a hole is in-use, empty, abandoned, inherited, made-good or struck"},
	"holes_known_known":             unseen,
	"assemblies_known_known":        unseen,
	"holes_numbers_stay":            {domain.Refused, "a hole of %s keeps the number that it was given on the map of its surface"},
	"conditions_only_grow":          {domain.Refused, "what was recorded of the condition of %s is not changed: add a record that withdraws the wrong one"},
	"sign_offs_number_not_negative": {domain.Invalid, "the number of a hole is 1 or more"},
	"relations_kind_known":          {domain.Invalid, "a relation is bears-on, hides, traps, interlocks, seals, steadies, runs-through or serves"},
	"relations_origin_known":        {domain.Invalid, "a relation comes from recipe, logged or geometry"},
	"prices_key_given":              {domain.Invalid, "a price needs what it prices"},
	"prices_unit_given":             {domain.Invalid, "a price needs its unit"},
	"prices_amount_not_negative":    {domain.Invalid, "a price cannot be negative"},
	"work_rates_positive":           {domain.Invalid, "a work rate needs minutes, more than 0"},
	"answers_key_size":              {domain.Invalid, "an idempotency key has 1 to 255 characters"},
}

var (
	taken      = refusal{domain.Exists, "the code %s is taken: one code names one thing in a fit-out; choose another"}
	codeless   = refusal{domain.Invalid, "everything in a register needs a code"}
	reasonless = refusal{domain.Invalid, "striking out needs a reason"}
	disordered = refusal{domain.Invalid, "the build order cannot be negative: 0 is not known"}
	ownerless  = refusal{domain.Invalid, "the owner is tenant, landlord or hired"}
	partyless  = refusal{domain.Invalid, "the party is tenant or landlord"}
	unseen     = refusal{domain.Invalid, "how it is known is seen, measured, assumed or unknown"}
)

func dangling(who, what string) refusal {
	return refusal{domain.Invalid, who + " names a code that is no " + what + " of this fit-out (%s): log it first, or mend the code"}
}

// What Postgres says of values that no constraint can name.
var unstorable = map[string]string{
	"22021": "a text holds a character that cannot be kept: type it again without it",
	"22P05": "a text holds a character that cannot be kept: type it again without it",
	"22003": "a number is larger than can be kept",
	"22007": "a date is not a date: write it like 2026-03-31",
	"22008": "a date is not in the calendar: write it like 2026-03-31",
}

// refused turns a broken constraint into the sentence it stands for, and leaves every other error as it is.
func refused(err error) error {
	broken, ok := errors.AsType[*pgconn.PgError](err)
	if !ok {
		return err
	}
	if r, ok := refusals[broken.ConstraintName]; ok {
		return domain.Errorf(r.code, "%s", strings.ReplaceAll(r.sentence, "%s", concerned(broken)))
	}
	if sentence, ok := unstorable[broken.Code]; ok {
		return domain.Errorf(domain.Invalid, "%s", sentence)
	}
	return err
}

var lastOfKey = regexp.MustCompile(`, ([^,]*)\) already exists`)

// concerned is the code that broke a constraint: our own guards give it as the hint, Postgres as the end of the key.
func concerned(broken *pgconn.PgError) string {
	if broken.Hint != "" {
		return broken.Hint
	}
	if found := lastOfKey.FindStringSubmatch(broken.Detail); found != nil {
		return found[1]
	}
	return "given"
}
