package reports

import (
	"strings"
	"testing"

	"unpick/domain"
)

// TestCoverSaysAsbestos: the cover of a document says what is known of asbestos in this place, before what it says of any.
func TestCoverSaysAsbestos(t *testing.T) {
	t.Parallel()
	r := readRegister(t, "wall-with-door")
	r.FitOut.Premises = domain.Premises{}
	r.Hosts[len(r.Hosts)-1].Kind = "asbestos-cement-sheet"
	rows, err := written(t, StripOut, inputOf(t, r)).GetRows("Cover")
	if err != nil {
		t.Fatal(err)
	}
	var cover strings.Builder
	for _, row := range rows {
		cover.WriteString(strings.Join(row, " ") + "\n")
	}
	for _, want := range []string{"Asbestos is in the place: " + r.Hosts[len(r.Hosts)-1].Code, "nobody has said when the building was built", "local law"} {
		if !strings.Contains(cover.String(), want) {
			t.Errorf("the cover does not say %q:\n%s", want, cover.String())
		}
	}
}
