package api

import (
	"bytes"
	"encoding/json"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/labstack/echo/v4"

	"unpick/api/service"
	"unpick/api/spec"
	"unpick/db/dbtest"
	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/testdata"
)

func testCatalogue() *domain.Catalogue { return catalogue.Default() }

// TestEveryRouteIsInTheContract holds the router against the document, both ways. Pages are no part of it.
func TestEveryRouteIsInTheContract(t *testing.T) {
	t.Parallel()
	jobs, err := service.New(t.Context(), dbtest.New(t), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(jobs.Close)
	e, s, err := router(Config{Jobs: jobs})
	if err != nil {
		t.Fatal(err)
	}
	ofPages := echo.New()
	s.pages.Routes(ofPages)
	pages := map[string]bool{}
	for _, r := range ofPages.Routes() {
		pages[r.Method+" "+r.Path] = true
	}
	var served, documented []string
	for _, r := range e.Routes() {
		if name := r.Method + " " + r.Path; !pages[name] {
			served = append(served, r.Method+" "+regexp.MustCompile(`:(\w+)`).ReplaceAllString(r.Path, "{$1}"))
		}
	}
	for path, item := range s.contract.doc.Paths.Map() {
		for method := range item.Operations() {
			documented = append(documented, method+" "+path)
		}
	}
	slices.Sort(served)
	slices.Sort(documented)
	if diff := cmp.Diff(documented, served); diff != "" {
		t.Errorf("routes (-contract +served):\n%s", diff)
	}
}

// TestContractHasEveryField turns every record of the demo into the contract's types and back: nothing may be lost.
func TestContractHasEveryField(t *testing.T) {
	t.Parallel()
	k, err := newContract()
	if err != nil {
		t.Fatal(err)
	}
	if kinds := enum(k, "ElementKind"); !cmp.Equal(kinds, words(domain.ElementKinds())) {
		t.Errorf("ElementKind: contract %v, domain %v", kinds, domain.ElementKinds())
	}
	if kinds := enum(k, "RelationKind"); !cmp.Equal(kinds, words(domain.RelationKinds())) {
		t.Errorf("RelationKind: contract %v, domain %v", kinds, domain.RelationKinds())
	}
	r, err := service.ReadFile(bytes.NewReader(testdata.Demo))
	if err != nil {
		t.Fatal(err)
	}
	var there spec.Records
	var back domain.Records
	strictly(t, r.Records(), &there)
	strictly(t, there, &back)
	if want, got := asJSON(t, r.Records()), asJSON(t, back); want != got {
		t.Error("the demo's records differ after a turn through the contract")
	}
}

func enum(k *contract, name string) []string {
	var out []string
	for _, v := range k.doc.Components.Schemas[name].Value.Enum {
		out = append(out, v.(string))
	}
	return out
}

func words[T ~string](list []T) []string {
	out := make([]string, len(list))
	for i, w := range list {
		out[i] = string(w)
	}
	return out
}

func strictly(t *testing.T, from, to any) {
	t.Helper()
	decoder := json.NewDecoder(strings.NewReader(asJSON(t, from)))
	decoder.DisallowUnknownFields()
	if err := decoder.Decode(to); err != nil {
		t.Fatalf("%T into %T: %v", from, to, err)
	}
}

func asJSON(t *testing.T, v any) string {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// TestContractNamesEveryShape holds the rules for the document itself: objects and enums are named, nothing is allOf.
func TestContractNamesEveryShape(t *testing.T) {
	t.Parallel()
	k, err := newContract()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range slices.Sorted(maps.Keys(k.doc.Components.Schemas)) {
		for field, p := range k.doc.Components.Schemas[name].Value.Properties {
			v := p.Value
			if len(v.AllOf) > 0 || p.Ref == "" && (v.Type.Is("object") || len(v.Enum) > 0) || v.Items != nil && v.Items.Ref == "" && v.Items.Value.Type.Is("object") {
				t.Errorf("%s.%s is an object or enum without a name, or allOf", name, field)
			}
		}
	}
}
