package rest

import (
	"context"
	"fmt"
	"io"

	"unpick/api/auth"
	"unpick/api/spec"
	"unpick/domain"
	"unpick/domain/photo"
)

// KeepPhoto keeps a photo, of something in the register or for a record that will name it.
func (h *Handlers) KeepPhoto(ctx context.Context, req spec.KeepPhotoRequestObject) (spec.KeepPhotoResponseObject, error) {
	content, err := io.ReadAll(req.Body) // within the limit that the contract's check holds
	if err != nil {
		return nil, fmt.Errorf("reading a photo: %w", err)
	}
	sent := photo.Sent{Name: "the body", MediaType: req.ContentType, Content: content, KeepPlace: value(req.Params.KeepPlace)}
	about, shows := value(req.Params.About), value(req.Params.Shows)
	var kept domain.Photo
	switch {
	case about != "":
		kept, err = h.jobs.Photograph(ctx, auth.Who(ctx), req.FitOut, about, shows, sent)
	case shows != "":
		err = domain.FieldErrorf(domain.Invalid, "query about", "is missing: what a photo shows is logged with the record that it is of")
	default:
		kept, err = h.jobs.KeepPhoto(ctx, auth.Who(ctx), req.FitOut, sent)
	}
	if err != nil {
		return nil, err
	}
	stored, err := h.jobs.Photos(ctx, req.FitOut, []string{kept.SHA256}) // with when it was kept
	out, err := one[spec.Photo](stored[kept.SHA256], err)
	return spec.KeepPhoto201JSONResponse{Body: out, Headers: spec.KeepPhoto201ResponseHeaders{Location: location(req.FitOut, "photos", kept.SHA256)}}, err
}

// GetPhoto answers a kept photo.
func (h *Handlers) GetPhoto(ctx context.Context, req spec.GetPhotoRequestObject) (spec.GetPhotoResponseObject, error) {
	mediaType, content, err := h.jobs.PhotoFile(ctx, req.FitOut, req.Sha256, value(req.Params.Small))
	if err != nil {
		return nil, err
	}
	return download{req.Sha256 + ".jpg", mediaType, content}, nil
}
