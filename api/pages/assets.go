package pages

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"maps"
	"net/http"
	"path"
	"slices"

	"github.com/labstack/echo/v4"

	"unpick/api/service"
	"unpick/domain"
)

//go:embed templates/*.html templates/parts/*.html templates/letters/*.html assets/*
var files embed.FS

// asset is one file that pages load. A hash stands in its address, so that a browser may keep it for good. It is one hash
// over all of them, so that a script finds another beside itself ("./queue.js"), and a phone keeps them as one set.
type asset struct {
	name, mediaType, hash string
	content               []byte
}

// address is where a browser finds it.
func (a asset) address() string { return "/assets/" + a.hash + "/" + a.name }

var mediaTypes = map[string]string{
	".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".svg": "image/svg+xml", ".png": "image/png",
}

func readAssets() (map[string]asset, error) {
	entries, err := files.ReadDir("assets")
	if err != nil {
		return nil, fmt.Errorf("listing the assets: %w", err)
	}
	out := map[string]asset{}
	for _, e := range entries {
		content, err := files.ReadFile("assets/" + e.Name())
		if err != nil {
			return nil, fmt.Errorf("reading the asset %s: %w", e.Name(), err)
		}
		mediaType, ok := mediaTypes[path.Ext(e.Name())]
		if !ok {
			return nil, fmt.Errorf("the asset %s has no media type here", e.Name())
		}
		out[e.Name()] = asset{name: e.Name(), mediaType: mediaType, content: content}
	}
	style := []byte(service.DrawingStyle()) // from the drawings themselves, which name its classes
	out["drawing.css"] = asset{name: "drawing.css", mediaType: mediaTypes[".css"], content: style}
	all := sha256.New()
	for _, name := range slices.Sorted(maps.Keys(out)) {
		fmt.Fprintf(all, "%s %d\n", name, len(out[name].content))
		all.Write(out[name].content)
	}
	hash := hex.EncodeToString(all.Sum(nil)[:8])
	for name, a := range out {
		a.hash = hash
		out[name] = a
	}
	return out, nil
}

// Asset serves a file under the hash of all of them.
func (p *Pages) Asset(c echo.Context) error {
	a, ok := p.assets[c.Param("name")]
	if !ok || a.hash != c.Param("hash") {
		return domain.Errorf(domain.NotFound, "there is no such file: load the page again")
	}
	c.Response().Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	return c.Blob(http.StatusOK, a.mediaType, a.content)
}
