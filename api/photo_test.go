package api

import (
	"bytes"
	"image/jpeg"
	"strings"

	"unpick/api/spec"
	"unpick/domain/photo"
	"unpick/domain/photo/phototest"
)

// photos keeps one, names it in a condition record, and gets it back without what the camera wrote.
func (s *site) photos() {
	at, kind := base+"/ONE/photos", []string{"Content-Type", "image/jpeg"}
	sent := phototest.JPEG(800, 600, phototest.Says{Located: true, Maker: "Exif"})
	made := s.want(201, post, at, sent, kind...)
	var kept spec.Photo
	made.into(s.tb, &kept)
	if kept.WidthPx != 800 || kept.Located != nil || kept.By == "" || kept.At == "" || made.header.Get("Location") != at+"/"+kept.Sha256 {
		s.tb.Errorf("kept photo: %+v at %s", kept, made.header.Get("Location"))
	}
	got := s.want(200, get, made.header.Get("Location"), nil)
	if picture, err := jpeg.DecodeConfig(bytes.NewReader(got.body)); err != nil || picture.Width != 800 || bytes.Contains(got.body, []byte("Exif")) {
		s.tb.Errorf("the kept photo comes back with %d dots across (%v), or with what the camera wrote", picture.Width, err)
	}
	if small := s.want(200, get, made.header.Get("Location")+"?small=true", nil); len(small.body) >= len(got.body) {
		s.tb.Error("the small photo is as large as the other")
	}
	s.want(404, get, at+"/"+strings.Repeat("0", 64), nil)

	const host = "SLAB"
	s.want(201, post, base+"/ONE/host-surfaces/"+host+"/conditions", object{"on": "2026-01-05", "text": "as found", "photos": []string{kept.Sha256}})
	s.want(201, post, at+"?about="+host+"&shows=the+corner", sent, kind...)
	s.want(422, post, at+"?shows=the+corner", sent, kind...)
	s.want(404, post, at+"?about=NOBODY", sent, kind...)
	s.want(413, post, at, make([]byte, photo.MostBytes+1), kind...)
	s.want(422, post, at, sent[:len(sent)/2], kind...)
	if lying := s.want(422, post, at, sent, "Content-Type", "image/png"); !strings.Contains(string(lying.body), "JPEG") {
		s.tb.Errorf("a photo of a lying type: %s", lying.body)
	}
}
