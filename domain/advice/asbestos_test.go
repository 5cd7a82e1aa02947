package advice

import (
	"strings"
	"testing"

	"unpick/domain"
)

// Who drills a building that may have asbestos is told, whatever the surface, unless a survey was seen or the building is too
// young: banned by the end of 1999 in Great Britain, from 2005 in the European Union (Directive 1999/77/EC; from memory).
func TestAsbestosWhereDrilled(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name string
		site domain.Premises
		area string
		want bool
	}{
		{"nothing known", domain.Premises{}, "GB-ENG", true},
		{"old", domain.Premises{BuiltYear: 1999}, "GB-ENG", true},
		{"old, survey seen", domain.Premises{BuiltYear: 1974, Survey: "RDS-7"}, "GB-ENG", false},
		{"a survey of blanks is none", domain.Premises{BuiltYear: 1974, Survey: "  "}, "GB-ENG", true},
		{"young", domain.Premises{BuiltYear: 2000}, "GB-ENG", false},
		{"banned later elsewhere", domain.Premises{BuiltYear: 2000}, "PT", true},
		{"young everywhere", domain.Premises{BuiltYear: 2005}, "", false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			r := unit()
			r.FitOut.Premises, r.FitOut.Calendar.Region = tt.site, tt.area
			said := false
			for _, a := range For(r, added("concrete-screw-6", 2, 6, 55)) {
				said = said || a.Kind == AsbestosUnseen && a.Severity == domain.Warning && strings.Contains(a.Mend, "local law")
			}
			if said != tt.want {
				t.Errorf("told of asbestos: %t, want %t", said, tt.want)
			}
			if standing := len(AsbestosIn(r)) > 0; standing != tt.want {
				t.Errorf("told of asbestos in the place: %t, want %t", standing, tt.want)
			}
			if about := len(AsbestosAbout(r, r.Hosts[0])) > 0; about != tt.want {
				t.Errorf("told of asbestos on the surface's page: %t, want %t", about, tt.want)
			}
		})
	}
}

// A surface of asbestos is said to be one when it is entered; one that may be fixed to, and a hole in it, are stopped until
// somebody says why.
func TestAsbestosSurface(t *testing.T) {
	t.Parallel()
	roof := domain.HostSurface{Code: "ROOF", Kind: "asbestos-cement-sheet", Origin: domain.Point{Y: 4000, Z: 3000}, U: domain.Direction{X: 1}, V: domain.Direction{Y: -1}, UMm: 4000, VMm: 4000, Rule: domain.Never}
	kindOf := func(said []domain.Advice) domain.Severity {
		for _, a := range said {
			if a.Kind == Asbestos {
				return a.Severity
			}
		}
		return ""
	}
	if got := kindOf(For(unit(), domain.Records{Hosts: []domain.HostSurface{roof}})); got != domain.Warning {
		t.Errorf("entered as never fixed to: %q, want a warning", got)
	}
	for _, rule := range []domain.FixingRule{domain.Ask, domain.Allowed} {
		lax := roof
		lax.Rule = rule
		if got := kindOf(For(unit(), domain.Records{Hosts: []domain.HostSurface{lax}})); got != domain.Stop {
			t.Errorf("entered as %s: %q, want a stop", rule, got)
		}
	}
	r := unit()
	r.Hosts = append(r.Hosts, roof)
	if got := AsbestosIn(r); len(got) != 1 || !strings.Contains(got[0].Text, "ROOF") {
		t.Errorf("AsbestosIn = %+v, want the roof named", got)
	}
	drilled := added("concrete-screw-6", 2, 6, 55)
	drilled.Fixings[0].IntoHost, drilled.Holes[0].Host = "ROOF", "ROOF"
	if got := kindOf(For(r, drilled)); got != domain.Stop {
		t.Errorf("drilled without a word: %q, want a stop", got)
	}
	drilled.Fixings[0].Reason = "licensed contractor, plan of work 12"
	if got := kindOf(For(r, drilled)); got != domain.Warning {
		t.Errorf("drilled with a reason: %q, want a warning", got)
	}
	now := r.Hosts[0]
	now.Kind, now.Rule = "asbestos-cement-sheet", domain.Ask
	if got := kindOf(ForHost(r, now)); got != domain.Stop {
		t.Errorf("amended to asbestos that may be fixed to: %q, want a stop", got)
	}
	now = roof
	now.Note = "seen again"
	if got := kindOf(ForHost(r, now)); got != "" {
		t.Errorf("a note on it: %q, want nothing new said", got)
	}
}
