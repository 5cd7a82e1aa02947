package photo

import (
	"bytes"
	"image"
	"image/jpeg"
	"image/png"
	"io"
	"mime"
	"path"
	"strings"

	"github.com/bep/imagemeta"
	"golang.org/x/image/webp"

	"unpick/domain"
)

// kind is one kind of file that is taken.
type kind struct {
	name      string
	mediaType string
	endings   []string
	starts    func([]byte) bool
	header    func(io.Reader) (image.Config, error)
	decode    func(io.Reader) (image.Image, error)
	meta      imagemeta.ImageFormat
}

// kinds are the files that are taken, known by how they start (RFC 2083 for PNG, RFC 9649 for WebP, ITU-T T.81 for JPEG).
func kinds() []*kind {
	return []*kind{
		{"JPEG", "image/jpeg", []string{".jpg", ".jpeg", ".jfif"}, startsWith("\xff\xd8\xff"), jpeg.DecodeConfig, jpeg.Decode, imagemeta.JPEG},
		{"PNG", "image/png", []string{".png"}, startsWith("\x89PNG\r\n\x1a\n"), png.DecodeConfig, png.Decode, imagemeta.PNG},
		{"WebP", "image/webp", []string{".webp"}, isWebP, webp.DecodeConfig, webp.Decode, imagemeta.WebP},
	}
}

func startsWith(mark string) func([]byte) bool {
	return func(content []byte) bool { return bytes.HasPrefix(content, []byte(mark)) }
}

func isWebP(content []byte) bool {
	return len(content) >= 12 && string(content[:4]) == "RIFF" && string(content[8:12]) == "WEBP"
}

// others are files that people send by mistake, so that the refusal can name them.
var others = []struct{ at, mark, name, mend string }{
	{"\x00\x00\x00", "ftyphei", "HEIC photo", "set the camera to the most compatible format, which is JPEG"},
	{"\x00\x00\x00", "ftypmif1", "HEIC photo", "set the camera to the most compatible format, which is JPEG"},
	{"\x00\x00\x00", "ftypavif", "AVIF photo", "send it as JPEG"},
	{"\x00\x00\x00", "ftyp", "video", "take a photo"},
	{"", "GIF8", "GIF", "send it as JPEG or PNG"},
	{"", "%PDF-", "PDF", "take a photo of it"},
	{"", "BM", "BMP", "send it as JPEG or PNG"},
	{"", "II*\x00", "TIFF or raw photo", "send it as JPEG"},
	{"", "MM\x00*", "TIFF or raw photo", "send it as JPEG"},
	{"", "PK\x03\x04", "ZIP", "send the photos in it one by one"},
}

// kindOf is what kind of file was sent. What it is called must not say otherwise: a file that lies about itself is not
// what the person thinks they are sending.
func kindOf(s Sent) (*kind, error) {
	if len(s.Content) == 0 {
		return nil, domain.Errorf(domain.Invalid, "the file is empty: take the photo again")
	}
	var is *kind
	for _, k := range kinds() {
		if k.starts(s.Content) {
			is = k
		}
	}
	if is == nil {
		return nil, unknown(s.Content)
	}
	for _, said := range []string{calledBy(s.Name), typed(s.MediaType)} {
		if said != "" && said != is.name {
			return nil, domain.Errorf(domain.Invalid, "the file says that it is %s and is %s: send the photo itself, under its own name", said, is.name)
		}
	}
	return is, nil
}

func unknown(content []byte) error {
	for _, o := range others {
		head := content
		if o.at != "" && len(content) > 4 {
			head = content[4:]
		}
		if bytes.HasPrefix(content, []byte(o.at)) && bytes.HasPrefix(head, []byte(o.mark)) {
			return domain.Errorf(domain.Invalid, "this is a %s, and a photo is JPEG, PNG or WebP: %s", o.name, o.mend)
		}
	}
	return domain.Errorf(domain.Invalid, "this is no photo: JPEG, PNG and WebP are taken")
}

// calledBy is the kind that a file's name promises, "" where it promises nothing that is known.
func calledBy(name string) string {
	ending := strings.ToLower(path.Ext(name))
	for _, k := range kinds() {
		for _, e := range k.endings {
			if e == ending {
				return k.name
			}
		}
	}
	return ""
}

// typed is the kind that a media type promises; another kind of file by its own words, "" where nothing is promised.
func typed(mediaType string) string {
	media, _, err := mime.ParseMediaType(mediaType)
	if err != nil || media == "application/octet-stream" || media == "image/*" {
		return ""
	}
	for _, k := range kinds() {
		if k.mediaType == media || media == "image/jpg" && k.name == "JPEG" {
			return k.name
		}
	}
	return media
}
