package rest

import (
	"bytes"
	"context"

	"unpick/api/auth"
	"unpick/api/spec"
	"unpick/domain"
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
	d, err := h.jobs.Document(ctx, auth.Who(ctx), req.FitOut, req.Name)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	if err := d.Write(&out); err != nil {
		return nil, err
	}
	headers := spec.GetDocument200ResponseHeaders{ContentDisposition: attachment(d.Name)}
	switch d.MediaType {
	case "application/json":
		return spec.GetDocument200JSONResponse{Body: out.Bytes(), Headers: headers}, nil
	case "image/svg+xml":
		return spec.GetDocument200ImageSvgXMLResponse{Body: &out, Headers: headers, ContentLength: int64(out.Len())}, nil
	case "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet":
		return spec.GetDocument200ApplicationVndOpenxmlformatsOfficedocumentSpreadsheetmlSheetResponse{Body: &out, Headers: headers, ContentLength: int64(out.Len())}, nil
	}
	return nil, domain.Errorf(domain.NotFound, "there is no way to answer %s", d.MediaType)
}

// attachment names a download; the name has no character that would need quoting.
func attachment(name string) string { return `attachment; filename="` + name + `"` }
