package pages

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"net/http"
	"path"

	"github.com/labstack/echo/v4"

	"unpick/api/service"
	"unpick/domain"
)

//go:embed templates/*.html templates/parts/*.html assets/*
var files embed.FS

// asset is one file that pages load. Its hash stands in its address, so that a browser may keep it for good.
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
		sum := sha256.Sum256(content)
		out[e.Name()] = asset{e.Name(), mediaType, hex.EncodeToString(sum[:8]), content}
	}
	style := []byte(service.DrawingStyle()) // from the drawings themselves, which name its classes
	sum := sha256.Sum256(style)
	out["drawing.css"] = asset{"drawing.css", mediaTypes[".css"], hex.EncodeToString(sum[:8]), style}
	return out, nil
}

// Asset serves a file under the hash of what it holds.
func (p *Pages) Asset(c echo.Context) error {
	a, ok := p.assets[c.Param("name")]
	if !ok || a.hash != c.Param("hash") {
		return domain.Errorf(domain.NotFound, "there is no such file: load the page again")
	}
	c.Response().Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	return c.Blob(http.StatusOK, a.mediaType, a.content)
}
