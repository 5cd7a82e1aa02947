package pages

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"net/http"
	"slices"

	"github.com/labstack/echo/v4"
)

// workerFile is the script that answers for the server where there is no signal. It is served at the top, because a
// script there answers for the addresses below its own.
const workerFile = "sw.js"

// Offline is the page for an address that this device has not seen and cannot fetch.
func (p *Pages) Offline(c echo.Context) error {
	return p.show(c, screen{Name: "offline", Title: "No signal"})
}

// Waiting is the page of what was sent without signal. The device has that, not the server: a script fills it in.
func (p *Pages) Waiting(c echo.Context) error {
	return p.show(c, screen{Name: "waiting", Title: "Waiting to be sent"})
}

// Worker is the service worker: told first which files belong to this version of the program.
func (p *Pages) Worker(c echo.Context) error {
	var shell []string
	for _, name := range slices.Sorted(maps.Keys(p.assets)) {
		if name != workerFile {
			shell = append(shell, p.assets[name].address())
		}
	}
	list, err := json.Marshal(shell)
	if err != nil {
		return fmt.Errorf("listing the files of the pages: %w", err)
	}
	var out bytes.Buffer
	fmt.Fprintf(&out, "import { newKey, sync } from %q;\n", p.assets["queue.js"].address())
	fmt.Fprintf(&out, "const version = %q;\nconst shell = %s;\n", p.assets[workerFile].hash, list)
	out.Write(p.assets[workerFile].content)
	c.Response().Header().Set("Cache-Control", "no-cache")
	return c.Blob(http.StatusOK, mediaTypes[".js"], out.Bytes())
}

// webIcon is one entry of the manifest's icons.
type webIcon struct {
	Src     string `json:"src"`
	Sizes   string `json:"sizes"`
	Type    string `json:"type"`
	Purpose string `json:"purpose"`
}

// webManifest is what a phone wants to know to put the pages on its home screen (W3C, Web Application Manifest).
type webManifest struct {
	ID              string    `json:"id"`
	Name            string    `json:"name"`
	ShortName       string    `json:"short_name"`
	Description     string    `json:"description"`
	Language        string    `json:"lang"`
	StartURL        string    `json:"start_url"`
	Scope           string    `json:"scope"`
	Display         string    `json:"display"`
	BackgroundColor string    `json:"background_color"`
	ThemeColor      string    `json:"theme_color"`
	Icons           []webIcon `json:"icons"`
}

// Manifest makes the pages installable.
func (p *Pages) Manifest(c echo.Context) error {
	m := webManifest{
		ID: "/", Name: "unpick", ShortName: "unpick", Language: "en",
		Description: "What holds a fit-out together, and how it comes out again",
		StartURL:    "/", Scope: "/", Display: "standalone", BackgroundColor: "#fbfaf6", ThemeColor: "#7a3b00",
	}
	for _, i := range []struct{ name, sizes, purpose string }{
		{"icon.svg", "any", "any"}, {"icon-192.png", "192x192", "any"}, {"icon-512.png", "512x512", "any"}, {"icon-maskable-512.png", "512x512", "maskable"},
	} {
		a := p.assets[i.name]
		m.Icons = append(m.Icons, webIcon{a.address(), i.sizes, a.mediaType, i.purpose})
	}
	text, err := json.Marshal(m)
	if err != nil {
		return fmt.Errorf("writing the manifest: %w", err)
	}
	c.Response().Header().Set("Cache-Control", "no-cache")
	return c.Blob(http.StatusOK, "application/manifest+json", text)
}
