package pages

import (
	"encoding/json"
	"errors"
	"fmt"
	"net/url"
	"strings"

	"unpick/api/service"
	"unpick/domain"
)

// built is what a form that amends says: a merge patch of the record, how far it was moved, and how.
type built struct {
	was   int
	patch []byte
	moved service.Moved
	how   map[string]any
}

// readBuilt reads a filled form. A field that was emptied takes the value out of the record; a figure that must be there
// is asked for.
func readBuilt(f *form, sent url.Values) (built, error) {
	var b built
	var err error
	if b.was, err = readAt(sent); err != nil {
		return b, err
	}
	text, err := f.JSON()
	if err != nil {
		return b, err
	}
	root := map[string]any{}
	if err := json.Unmarshal(text, &root); err != nil {
		return b, fmt.Errorf("reading back a form: %w", err)
	}
	var moved struct {
		Moved struct {
			X int `json:"x_mm"`
			Y int `json:"y_mm"`
			Z int `json:"z_mm"`
		} `json:"moved"`
	}
	if err := json.Unmarshal(text, &moved); err != nil {
		return b, domain.Errorf(domain.Invalid, "how far it was moved is given in whole millimetres")
	}
	b.moved = service.Moved(moved.Moved)
	b.how, _ = root["how"].(map[string]any)
	for _, own := range []string{"version", "moved", "how", "accept_advice"} {
		delete(root, own)
	}
	for _, g := range f.Groups {
		for _, field := range g.Fields {
			name, top := strings.CutPrefix(field.Name, "/")
			if _, given := root[name]; top && !given && !strings.Contains(name, "/") && emptied(field) {
				root[name] = nil
			}
		}
	}
	if b.patch, err = json.Marshal(root); err != nil {
		return b, fmt.Errorf("writing a patch: %w", err)
	}
	return b, nil
}

// emptied reports whether a field stands for a value of the record and has none now.
func emptied(f field) bool {
	switch f.Kind {
	case words, lines, choice, suggested, number:
		return strings.TrimSpace(f.Value) == "" && f.Name != "/reason"
	}
	return false
}

// allTheSame stores an amendment. Where there is advice on it the page comes back with it, and takes the answer: just this
// advice was seen, and it is so all the same.
func (page *recordPage) allTheSame(sent url.Values, store func(service.Consent) error) error {
	err := store(service.Consent{})
	advised, ok := errors.AsType[*service.Advised](err)
	if !ok {
		return err
	}
	reason := strings.TrimSpace(sent.Get("/why"))
	asked := askAbout(advised.Said, reason, false)
	asked.Title, asked.Reason.Name = "Before it is stored", "/why"
	page.Asked = asked
	switch {
	case sent.Get("/accept") != asked.Seen:
		return errAsk
	case asked.MustSay && reason == "":
		asked.Reason.Faults = []string{"say why it is done all the same: the log keeps it"}
		return errAsk
	}
	return store(service.Consent{Accept: true, Reason: reason})
}

func movedGroup(help string, more ...field) group {
	return group{Legend: "Moved", Note: help, Fields: append([]field{
		mm("/moved/x_mm", "Along the plan to the right", "").below(), mm("/moved/y_mm", "Up the plan", "").below(), mm("/moved/z_mm", "Higher", "Lower with a minus: -50").below(),
	}, more...)}
}

func knownField(k domain.Known) field {
	return pick("/known", "Known", []option{{"", "Seen (not said)"}, {string(domain.Seen), "Seen"}, {string(domain.Measured), "Measured"}, {string(domain.Assumed), "Assumed: nobody has looked"}, {string(domain.Unknown), "Not known until it is opened"}}, "").as(string(k))
}

func noteField(note string) field {
	return field{Name: "/note", Label: "Note", Kind: lines, Value: note}
}

// strikeForm asks why, and whether it was drilled where that leaves holes.
func strikeForm(drills bool) *form {
	fields := []field{{Name: "/reason", Label: "Why", Kind: suggested, Required: true, Help: "The log keeps it",
		Options: []option{{"left out when it was built", ""}, {"logged by mistake", ""}, {"built otherwise: logged again", ""}}}}
	if drills {
		fields = append(fields, pick("/drilled", "Was it drilled?", []option{{"", "Say which"}, {"yes", "Yes: the holes are there, and stay in the register"}, {"no", "No: there are no holes"}}, "").must())
	}
	return &form{Groups: []group{{Fields: fields}}}
}

// struckWith reads a filled strike form.
func struckWith(f *form, sent url.Values) (was int, reason string, drilled bool, err error) {
	if was, err = readAt(sent); err != nil {
		return 0, "", false, err
	}
	var faults domain.Errors
	if reason = strings.TrimSpace(sent.Get("/reason")); reason == "" {
		faults.Addf(domain.Invalid, "/reason", "say why: what is struck out stays in the log with its reason")
	}
	answer := sent.Get("/drilled")
	if f.nearest("/drilled") != nil && answer != "yes" && answer != "no" {
		faults.Addf(domain.Invalid, "/drilled", "say whether it was drilled: holes that are there have to be made good one day")
	}
	return was, reason, answer == "yes", faults.OrNil()
}
