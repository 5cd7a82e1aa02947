package rest

import (
	"bytes"
	"context"
	"net/http"
	"strconv"

	"unpick/api/auth"
	"unpick/api/service"
	"unpick/api/spec"
)

// ListDocuments answers the names of every document.
func (h *Handlers) ListDocuments(ctx context.Context, req spec.ListDocumentsRequestObject) (spec.ListDocumentsResponseObject, error) {
	docs, err := h.jobs.DocumentList(ctx, req.FitOut)
	items := make([]spec.Document, len(docs))
	for i, d := range docs {
		items[i] = spec.Document{Name: d.Name, MediaType: d.MediaType, Title: d.Title}
	}
	return spec.ListDocuments200JSONResponse{Items: items}, err
}

// GetDocument writes one document.
func (h *Handlers) GetDocument(ctx context.Context, req spec.GetDocumentRequestObject) (spec.GetDocumentResponseObject, error) {
	d, err := h.jobs.Document(ctx, auth.Who(ctx), req.FitOut, req.Name, scopeOf(req.Params.Everything, req.Params.Only, req.Params.Clause))
	return downloadOf(d, err)
}

// downloadOf writes a document whole before anything is answered, so that a failing one is a problem and not half a file.
func downloadOf(d service.Document, err error) (*download, error) {
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	if err := d.Write(&out); err != nil {
		return nil, err
	}
	return &download{d.Name, d.MediaType, out.Bytes()}, nil
}

// download is a file as it stands: the generated answers would write JSON anew, and a fit-out file has one form.
type download struct {
	name, mediaType string
	content         []byte
}

// VisitGetDocumentResponse writes the file.
func (d download) VisitGetDocumentResponse(w http.ResponseWriter) error { return d.write(w) }

// VisitGetMoveDocumentResponse writes the file.
func (d download) VisitGetMoveDocumentResponse(w http.ResponseWriter) error { return d.write(w) }

// VisitGetOrderDocumentResponse writes the file.
func (d download) VisitGetOrderDocumentResponse(w http.ResponseWriter) error { return d.write(w) }

// VisitGetLabelsResponse writes the file.
func (d download) VisitGetLabelsResponse(w http.ResponseWriter) error { return d.write(w) }

// VisitGetPhotoResponse writes the file.
func (d download) VisitGetPhotoResponse(w http.ResponseWriter) error { return d.write(w) }

// VisitGetRegisterResponse writes the file.
func (d download) VisitGetRegisterResponse(w http.ResponseWriter) error { return d.write(w) }

func (d download) write(w http.ResponseWriter) error {
	h := w.Header()
	h.Set("Content-Type", d.mediaType)
	h.Set("Content-Length", strconv.Itoa(len(d.content)))
	h.Set("Content-Disposition", `attachment; filename="`+d.name+`"`) // no name has a character that would need quoting
	_, err := w.Write(d.content)
	return err
}
