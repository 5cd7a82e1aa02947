package bundle

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"io"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"unpick/domain"
	"unpick/domain/answer"
	"unpick/domain/catalogue"
	"unpick/domain/issue"
)

// job is a small fit-out that was logged entry by entry: two pieces, one amended since, one photo, one issued document, and
// the workbook that came back to it, received and then taken.
func job(tb testing.TB) Input {
	tb.Helper()
	in := Input{MadeAt: time.Date(2029, 2, 1, 9, 0, 0, 0, time.UTC), MadeBy: "A. Roe",
		Photos: []Content{{Bytes: []byte("not really a picture")}}, Issues: []Content{{Name: "reinstatement-1.xlsx", Bytes: []byte("not really a workbook")}, {Name: "reinstatement-1.pdf", Bytes: []byte("not really a print")}},
		Returned: []Content{{Bytes: []byte("nor is this one")}}}
	in.Photos[0].Name = sumOf(in.Photos[0].Bytes) + ".jpg"
	came := sumOf(in.Returned[0].Bytes)
	in.Returned[0].Name = "001-reinstatement-landlord-" + came + ".xlsx"
	f := domain.FitOut{Code: "ONE", Name: "One wall", Currency: "GBP"}
	stud := domain.Element{Code: "S1", Kind: domain.Stud, Material: "c16-cls-38x89", LengthMm: 2400, WidthMm: 89, ThicknessMm: 38, Version: 1}
	moved := stud
	moved.LengthMm, moved.Version = 2380, 2
	plate := domain.Element{Code: "P1", Kind: domain.SolePlate, Material: "c16-cls-38x89", LengthMm: 4200, WidthMm: 89, ThicknessMm: 38, Version: 1}
	seen := domain.SignOff{Code: "S-1", Kind: domain.Photographed, What: "the stud", About: []string{"S1"}, By: "A. Roe", On: "2029-01-05", Photos: []string{sumOf(in.Photos[0].Bytes)}}
	var last domain.LogEntry
	for _, c := range []any{
		domain.Change{Kind: domain.Append, What: "opened", FitOut: &f},
		domain.Change{Kind: domain.Append, What: "two pieces", Add: domain.Records{Elements: []domain.Element{stud, plate}}},
		domain.Change{Kind: domain.Amend, What: "S1 amended", Put: domain.Records{Elements: []domain.Element{moved}}},
		domain.Change{Kind: domain.Append, What: "a photo", Add: domain.Records{SignOffs: []domain.SignOff{seen}}},
		issue.Logged{Kind: domain.Append, What: "issued", Issue: issue.Issue{Document: issue.Reinstatement, Number: 1, SHA256: sumOf(in.Issues[0].Bytes), Print: &issue.Print{Document: "reinstatement.pdf", SHA256: sumOf(in.Issues[1].Bytes)}}},
		answer.CameBack{Kind: domain.Append, What: "came back", Returned: answer.Returned{Document: issue.Reinstatement, Issue: 1, Party: answer.Landlord, SHA256: came}},
		map[string]any{"kind": "append", "what": "taken", "document": issue.Reinstatement, "issue": 1, "party": "landlord", "from": came},
	} {
		text, err := json.Marshal(c)
		if err != nil {
			tb.Fatal(err)
		}
		last = last.Next(domain.Actor{Name: "A. Roe"}, in.MadeAt.Format(domain.LogTime), domain.Append, "entry", text)
		in.Log = append(in.Log, last)
	}
	in.Register = &domain.Register{FitOut: f, Elements: []domain.Element{plate, moved}, SignOffs: []domain.SignOff{seen}, Catalogue: catalogue.Default()}
	return in
}

func written(tb testing.TB, in Input) []byte {
	tb.Helper()
	var out bytes.Buffer
	if err := Write(&out, in); err != nil {
		tb.Fatal(err)
	}
	return out.Bytes()
}

func verified(tb testing.TB, file []byte) *Report {
	tb.Helper()
	r, err := Verify(file)
	if err != nil {
		tb.Fatal(err)
	}
	return r
}

func TestWhole(t *testing.T) {
	t.Parallel()
	file := written(t, job(t))
	if r := verified(t, file); !r.Whole() || len(r.Checked) != 5 || r.Manifest.Entries != 7 {
		t.Errorf("a bundle as it was made: %d checks, faults %q", len(r.Checked), r.Faults)
	}
	if !bytes.Equal(file, written(t, job(t))) {
		t.Error("the same input gives another file")
	}
}

// TestEveryByte changes each byte of a bundle, one at a time and in one bit or all: each change is found.
func TestEveryByte(t *testing.T) {
	t.Parallel()
	file := written(t, job(t))
	random := rand.New(rand.NewPCG(1, 2))
	for i := range file {
		was := file[i]
		file[i] ^= byte(1 << random.IntN(8))
		r, err := Verify(file)
		if err == nil && r.Whole() {
			t.Fatalf("byte %d of %d was changed from %#x to %#x, and nobody noticed", i, len(file), was, file[i])
		}
		file[i] = was
	}
	for _, cut := range []int{1, 50, len(file) / 2, len(file) - 3} {
		if r, err := Verify(file[:len(file)-cut]); err == nil && r.Whole() {
			t.Errorf("cut short by %d bytes, and nobody noticed", cut)
		}
	}
}

// forged is a bundle unpacked, changed, and sealed again by somebody who knows how, the manifest made anew.
func forged(tb testing.TB, file []byte, change func(map[string][]byte)) []byte {
	tb.Helper()
	return forgedAs(tb, file, FormatVersion, change)
}

func forgedAs(tb testing.TB, file []byte, version int, change func(map[string][]byte)) []byte {
	tb.Helper()
	archive, err := zip.NewReader(bytes.NewReader(file), int64(len(file)))
	if err != nil {
		tb.Fatal(err)
	}
	contents := map[string][]byte{}
	for _, f := range archive.File {
		in, err := f.Open()
		if err != nil {
			tb.Fatal(err)
		}
		if contents[f.Name], err = io.ReadAll(in); err != nil {
			tb.Fatal(err)
		}
	}
	var m Manifest
	if err := json.Unmarshal(contents[manifestName], &m); err != nil {
		tb.Fatal(err)
	}
	change(contents)
	m.FormatVersion, m.Files = version, nil
	for _, name := range sortedNames(contents) {
		if name != manifestName {
			m.Files = append(m.Files, File{name, int64(len(contents[name])), sumOf(contents[name])})
		}
	}
	if contents[manifestName], err = json.Marshal(m); err != nil {
		tb.Fatal(err)
	}
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, name := range sortedNames(contents) {
		w, err := z.Create(name)
		if err == nil {
			_, err = w.Write(contents[name])
		}
		if err != nil {
			tb.Fatal(err)
		}
	}
	if err := z.SetComment(unsealed); err != nil {
		tb.Fatal(err)
	}
	if err := z.Close(); err != nil {
		tb.Fatal(err)
	}
	again := out.Bytes()
	if err := seal(again); err != nil {
		tb.Fatal(err)
	}
	return again
}

// TestForged: manifest and seal are made anew, and still the log gives the change away.
func TestForged(t *testing.T) {
	t.Parallel()
	in := job(t)
	file, back := written(t, in), backFolder+in.Returned[0].Name
	replace := func(name, old, new string) func(map[string][]byte) {
		return func(c map[string][]byte) { c[name] = bytes.Replace(c[name], []byte(old), []byte(new), 1) }
	}
	for name, tt := range map[string]struct {
		change func(map[string][]byte)
		says   string
	}{
		"nothing":                  {func(map[string][]byte) {}, ""},
		"a length in the register": {replace(registerName, "2380", "2400"), "element S1 is not as the log wrote it last"},
		"the fit-out's name":       {replace(registerName, "One wall", "Two walls"), "terms of the fit-out"},
		"a word in the log":        {replace(logName, "two pieces", "no pieces"), "chain is broken at line 2"},
		"an entry taken out":       {func(c map[string][]byte) { c[logName] = c[logName][bytes.IndexByte(c[logName], '\n')+1:] }, "chain is broken at line 1"},
		"the last entry taken out": {func(c map[string][]byte) {
			c[logName] = c[logName][:bytes.LastIndexByte(c[logName][:len(c[logName])-1], '\n')+1]
		}, "as its head"},
		"a photo": {func(c map[string][]byte) {
			c[photoFolder+sumOf([]byte("not really a picture"))+".jpg"] = []byte("another")
		}, "a photo has the hash of its bytes"},
		"a photo taken out":            {func(c map[string][]byte) { delete(c, photoFolder+in.Photos[0].Name) }, "photo gone, entry 4 has its hash"},
		"a photo more":                 {func(c map[string][]byte) { c[photoFolder+sumOf([]byte("another"))+".jpg"] = []byte("another") }, "knows no such photo"},
		"an issued document":           {func(c map[string][]byte) { c[issueFolder+"reinstatement-1.xlsx"] = []byte("another") }, "no issue with its hash"},
		"an issued document taken out": {func(c map[string][]byte) { delete(c, issueFolder+"reinstatement-1.xlsx") }, "issue 1 of reinstatement.xlsx is gone"},
		"an issued print":              {func(c map[string][]byte) { c[issueFolder+"reinstatement-1.pdf"] = []byte("another") }, "no issue with its hash"},
		"an issued print taken out":    {func(c map[string][]byte) { delete(c, issueFolder+"reinstatement-1.pdf") }, "the print of issue 1, reinstatement.pdf, is gone"},
		"a workbook that came back":    {func(c map[string][]byte) { c[back] = []byte("another") }, "ends in the hash of its bytes"},
		"another in its place": {func(c map[string][]byte) {
			delete(c, back)
			c[backFolder+"001-reinstatement-landlord-"+sumOf([]byte("another"))+".xlsx"] = []byte("another")
		}, "a workbook that came back is gone: entry 6"},
		"the workbook taken out":     {func(c map[string][]byte) { delete(c, back) }, "a workbook that came back is gone: entry 6"},
		"a record taken out":         {func(c map[string][]byte) { c[registerName] = without(t, c[registerName], "P1") }, "element P1 is gone"},
		"a name that leads outside":  {func(c map[string][]byte) { c["../x"] = []byte("x") }, "leads outside"},
		"a register that is no JSON": {func(c map[string][]byte) { c[registerName] = []byte("{") }, "cannot be read"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := verified(t, forged(t, file, tt.change))
			if told := strings.Join(r.Faults, "; "); (tt.says == "") != r.Whole() || !strings.Contains(told, tt.says) {
				t.Errorf("faults %q, want one that says %q", told, tt.says)
			}
		})
	}
}

// TestWorkbookThatNobodyLogged: one that the log does not know is not known to be whole; and a bundle of version 1, which
// lacks what came back, says so of one that the log knows.
func TestWorkbookThatNobodyLogged(t *testing.T) {
	t.Parallel()
	in := job(t)
	more := []byte("one more")
	name := "001-reinstatement-tenant-" + sumOf(more) + ".xlsx"
	in.Returned = append(in.Returned, Content{Name: name, Bytes: more})
	if r := verified(t, written(t, in)); r.Whole() || len(r.Faults) > 0 || len(r.Unchecked) != 1 || !strings.Contains(r.Unchecked[0], name) {
		t.Errorf("faults %q, unchecked %q: want one workbook that is not known", r.Faults, r.Unchecked)
	}
	first := forgedAs(t, written(t, job(t)), withoutReturned, func(c map[string][]byte) { delete(c, backFolder+job(t).Returned[0].Name) })
	if r := verified(t, first); r.Whole() || len(r.Faults) > 0 || len(r.Unchecked) != 1 || !strings.Contains(r.Unchecked[0], "entry 6") {
		t.Errorf("of version 1: faults %q, unchecked %q: want the workbook of entry 6 missed", r.Faults, r.Unchecked)
	}
}

// without is a register's file with one element taken out.
func without(tb testing.TB, text []byte, code string) []byte {
	tb.Helper()
	var file map[string]any
	if err := json.Unmarshal(text, &file); err != nil {
		tb.Fatal(err)
	}
	var kept []any
	for _, e := range file["elements"].([]any) {
		if e.(map[string]any)["code"] != code {
			kept = append(kept, e)
		}
	}
	file["elements"] = kept
	out, err := json.Marshal(file)
	if err != nil {
		tb.Fatal(err)
	}
	return out
}

func TestNoBundle(t *testing.T) {
	t.Parallel()
	var other bytes.Buffer
	z := zip.NewWriter(&other)
	if _, err := z.Create("word/document.xml"); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	for name, file := range map[string][]byte{"nothing": nil, "words": []byte("hello"), "another zip": other.Bytes()} {
		if _, err := Verify(file); domain.CodeOf(err) != domain.Invalid {
			t.Errorf("%s: %v, want it refused as no bundle", name, err)
		}
	}
}

// imported is a job that came in as a file: three pieces, of which one was amended since. kept is whether the log has the
// first form of that one, as logs of older programs have not.
func imported(tb testing.TB, kept bool) Input {
	tb.Helper()
	in := Input{MadeAt: time.Date(2029, 2, 1, 9, 0, 0, 0, time.UTC), MadeBy: "A. Roe"}
	f := domain.FitOut{Code: "ONE", Name: "One wall", Currency: "GBP"}
	var pieces []domain.Element
	for _, code := range []string{"S1", "S2", "S3"} {
		pieces = append(pieces, domain.Element{Code: code, Kind: domain.Stud, Material: "c16-cls-38x89", LengthMm: 2400, WidthMm: 89, ThicknessMm: 38, Version: 1})
	}
	sum, err := domain.SumRecords(domain.Records{Elements: pieces})
	if err != nil {
		tb.Fatal(err)
	}
	moved := pieces[1]
	moved.LengthMm, moved.Version = 2380, 2
	amended := domain.Change{Kind: domain.Amend, What: "S2 amended", Put: domain.Records{Elements: []domain.Element{moved}}}
	if kept {
		amended.Was = domain.Records{Elements: pieces[1:2]}
	}
	var last domain.LogEntry
	for _, c := range []any{domain.Imported{Kind: domain.Append, What: "imported", FitOut: f, Counts: domain.Counts{Elements: 3}, RecordsSHA256: sum}, amended} {
		text, err := json.Marshal(c)
		if err != nil {
			tb.Fatal(err)
		}
		last = last.Next(domain.Actor{Name: "A. Roe"}, in.MadeAt.Format(domain.LogTime), domain.Append, "entry", text)
		in.Log = append(in.Log, last)
	}
	in.Register = &domain.Register{FitOut: f, Elements: []domain.Element{pieces[0], moved, pieces[2]}, Catalogue: catalogue.Default()}
	return in
}

// TestForgedImport: once one imported record was amended, a change to another that nobody touched is still found, by the
// hash of the import; where the log lacks the first form, it is said that nothing was held to that hash, and the bundle
// does not count as whole.
func TestForgedImport(t *testing.T) {
	t.Parallel()
	file := written(t, imported(t, true))
	if r := verified(t, file); !r.Whole() || !strings.Contains(strings.Join(r.Checked, "; "), "3 records as they were imported") {
		t.Errorf("as it was made: checked %q, faults %q, unchecked %q", r.Checked, r.Faults, r.Unchecked)
	}
	change := func(c map[string][]byte) {
		c[registerName] = bytes.Replace(c[registerName], []byte("2400"), []byte("2500"), 1)
	}
	if r := verified(t, forged(t, file, change)); !strings.Contains(strings.Join(r.Faults, "; "), "what was imported is not what the log has the hash of") {
		t.Errorf("an imported piece that nobody amended was changed: faults %q", r.Faults)
	}
	if r := verified(t, written(t, imported(t, false))); r.Whole() || len(r.Faults) > 0 || len(r.Unchecked) != 1 || !strings.Contains(r.Unchecked[0], "2 records") {
		t.Errorf("without the first form: faults %q, unchecked %q: want two records that are not checked", r.Faults, r.Unchecked)
	}
}

// TestPhotosOfAnImport: a photo that a fit-out file named was never here, and that is said; one that a condition record or a
// signature added since is missed, whether or not the file named another, or the same, on that surface.
func TestPhotosOfAnImport(t *testing.T) {
	t.Parallel()
	named, picture := sumOf([]byte("elsewhere")), []byte("a picture")
	sum := sumOf(picture)
	for _, tt := range []struct {
		name      string
		photo     string // that the record of the start names, which came with the file
		added     string // by a condition record since, "" for none
		was       bool   // whether the log has the surface as it came
		struck    bool
		here      bool // whether the picture is in the bundle
		says      string
		unchecked bool
	}{
		{"a name from the file", named, "", true, false, false, "", false},
		{"one added, and here", named, sum, true, false, true, "", false},
		{"one added, and taken out", named, sum, true, false, false, "photo gone, entry 2 has its hash: " + sum, false},
		{"the same added that the file named", sum, sum, true, false, false, "photo gone, entry 2 has its hash: " + sum, false},
		{"on a surface that is struck", named, sum, true, true, false, "photo gone, entry 2 has its hash: " + sum, false},
		{"by a program that did not keep the first form", named, sum, false, false, false, "", true},
	} {
		h := domain.HostSurface{Code: "WALL", Kind: "dense-block", UMm: 5000, VMm: 3000, Version: 1, Conditions: []domain.Condition{{On: "2029-01-01", Text: "as found", Photos: []string{tt.photo}}}}
		records, err := domain.SumRecords(domain.Records{Hosts: []domain.HostSurface{h}})
		if err != nil {
			t.Fatal(err)
		}
		in := Input{MadeAt: time.Date(2029, 2, 1, 9, 0, 0, 0, time.UTC), MadeBy: "A. Roe"}
		changes := []any{domain.Imported{Kind: domain.Append, What: "imported", Counts: domain.Counts{Hosts: 1}, RecordsSHA256: records}}
		if tt.added != "" {
			after := h
			after.Conditions, after.Version, after.Struck = append(slices.Clone(h.Conditions), domain.Condition{On: "2029-01-02", Text: "cracked", Photos: []string{tt.added}}), 2, tt.struck
			c := domain.Change{Kind: domain.Amend, What: "condition", Put: domain.Records{Hosts: []domain.HostSurface{after}}}
			if tt.was {
				c.Was.Hosts = []domain.HostSurface{h}
			}
			changes, h = append(changes, c), after
		}
		var last domain.LogEntry
		for _, c := range changes {
			text, err := json.Marshal(c)
			if err != nil {
				t.Fatal(err)
			}
			last = last.Next(domain.Actor{Name: "A. Roe"}, in.MadeAt.Format(domain.LogTime), domain.Append, "entry", text)
			in.Log = append(in.Log, last)
		}
		in.Register = &domain.Register{Catalogue: catalogue.Default()}
		in.Register.SetHosts([]domain.HostSurface{h})
		if tt.here {
			in.Photos = []Content{{sum + ".jpg", picture}}
		}
		r := verified(t, written(t, in))
		if told := strings.Join(r.Faults, "; "); told != tt.says {
			t.Errorf("%s: faults %q, want %q", tt.name, told, tt.says)
		}
		if unchecked := strings.Join(r.Unchecked, "; "); tt.unchecked != strings.Contains(unchecked, "photo "+sum+" is not here: entry 2") {
			t.Errorf("%s: unchecked %q", tt.name, unchecked)
		}
		if never := strings.Contains(strings.Join(r.Limits, "; "), "1 photos that the register names were never kept here"); never != (tt.photo == named && tt.was) {
			t.Errorf("%s: limits %q", tt.name, r.Limits)
		}
	}
}
