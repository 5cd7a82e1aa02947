// Package pages draws the pages: html/template, one stylesheet of our own, htmx, and a little script for what a server
// cannot do (drawings under a finger, work without a signal).
//
// The idea: a screen is one Go file and one template of the same name. Every screen works without script: a link is a
// link, a form posts and is answered with a page. Fields of forms are named by JSON pointers into what they fill, so that
// a fault that the domain finds lands beside its field by itself.
//
// Looking for
//
//   - every address: routes.go; drawing a page, or a part of one: render.go; words and figures in templates: words.go
//   - fields, groups, faults beside them, forms to JSON: form.go; a form sent twice: Refused in refused.go
//   - the stylesheet, htmx and scripts, under the hash of what they hold: assets.go
//   - a surface of the landlord's: surface.go, and once it is there record_host.go; more that is set: settings.go, settings_add.go
//   - the register: register.go; one record and what changes it: record.go, with a file for each noun; photos: photos.go
//   - without signal: what a phone is told in offline.go; in assets the queue (queue.js), forms and the badge (offline.js),
//     what waits (waiting.js), pages that are kept (sw.js); the step that a form which waited was typed for: stepmeant.go,
//     and what was typed where there is none: steptyped.go
//   - what was signed, and taking it back: signature.go
//   - what a landlord sees by a link, in a frame of its own: letter.go; items and what is said to them: answering.go
//   - one screen: the file and the template of its name
package pages

import (
	"fmt"
	"html/template"
	"io/fs"
	"path"
	"strings"

	"unpick/api/service"
)

// Pages holds the parsed templates.
type Pages struct {
	jobs      *service.Service
	templates map[string]*template.Template // by screen
	letters   *template.Template            // for who comes by a link: a frame of their own
	assets    map[string]asset              // by name
}

// New parses the templates, once.
func New(jobs *service.Service) (*Pages, error) {
	p := &Pages{jobs: jobs, templates: map[string]*template.Template{}}
	var err error
	if p.assets, err = readAssets(); err != nil {
		return nil, err
	}
	base, err := template.New("base.html").Funcs(p.functions()).ParseFS(files, "templates/base.html", "templates/parts/*.html")
	if err != nil {
		return nil, fmt.Errorf("reading the frame of every page: %w", err)
	}
	if p.letters, err = template.New("letters").Funcs(p.functions()).ParseFS(files, "templates/parts/*.html", "templates/letters/*.html"); err != nil {
		return nil, fmt.Errorf("reading the pages of links: %w", err)
	}
	screens, err := fs.Glob(files, "templates/*.html")
	if err != nil {
		return nil, fmt.Errorf("listing the screens: %w", err)
	}
	for _, file := range screens {
		if file == "templates/base.html" {
			continue
		}
		name := strings.TrimSuffix(path.Base(file), ".html")
		t, err := template.Must(base.Clone()).ParseFS(files, file)
		if err != nil {
			return nil, fmt.Errorf("reading the screen %s: %w", name, err)
		}
		p.templates[name] = t
	}
	return p, nil
}
