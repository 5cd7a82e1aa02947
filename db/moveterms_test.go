package db_test

import (
	"encoding/json"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"
	"github.com/jackc/pgx/v5"

	"unpick/db"
	"unpick/db/dbtest"
)

// TestOneWayOfATrip: terms that were kept with the driving of a trip, there and back, have half of it as the way from one place
// to the other once the schema is brought up, but for those that had a way already.
func TestOneWayOfATrip(t *testing.T) {
	t.Parallel()
	d, url := dbtest.NewURL(t, db.Config{})
	conn, err := pgx.Connect(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(t.Context())
	for code, tt := range map[string][2]string{
		"T1": {`{"vehicle": {"name": "lorry", "minutes_per_trip": 61}}`, `{"vehicle": {"name": "lorry"}, "programme": {"travel_minutes": 31}}`},
		"T2": {`{"vehicle": {"minutes_per_trip": 60}, "programme": {"travel_minutes": 10, "people": 3}}`, `{"vehicle": {}, "programme": {"travel_minutes": 10, "people": 3}}`},
		"T3": {`{"vehicle": {"minutes_per_trip": 2000}, "programme": {"people": 3}}`, `{"vehicle": {}, "programme": {"travel_minutes": 240, "people": 3}}`},
		"T4": {`{"vehicle": {"minutes_per_trip": 0}}`, `{"vehicle": {}}`},
		"T5": {`{"kerf_mm": 4}`, `{"kerf_mm": 4}`},
	} {
		f := imported(t, d, built(code, 1, 1))
		if err := d.KeepMoveTerms(t.Context(), firm(t, d), f.ID, db.MoveTerms{Terms: json.RawMessage(tt[0]), By: "Jo"}); err != nil {
			t.Fatal(err)
		}
		if _, err := conn.Exec(t.Context(), `delete from goose_db_version where version_id = 99`); err != nil {
			t.Fatal(err)
		}
		if err := d.Migrate(t.Context()); err != nil {
			t.Fatal(err)
		}
		kept, err := d.MoveTerms(t.Context(), firm(t, d), f.ID)
		if err != nil {
			t.Fatal(err)
		}
		var want, got any
		if err := json.Unmarshal([]byte(tt[1]), &want); err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(kept.Terms, &got); err != nil {
			t.Fatal(err)
		}
		if diff := gocmp.Diff(want, got); diff != "" {
			t.Errorf("%s brought up (-want +got):\n%s", tt[0], diff)
		}
	}
}
