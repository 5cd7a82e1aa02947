package fitoutfile

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"

	"unpick/domain"
)

// Read reads a fit-out from its file and expands the recipes in it.
func Read(rd io.Reader, cat *domain.Catalogue, expand Expander) (*domain.Register, error) {
	data, err := io.ReadAll(rd)
	if err != nil {
		return nil, fmt.Errorf("reading a fit-out file: %w", err)
	}
	decoder := json.NewDecoder(bytes.NewReader(data))
	decoder.DisallowUnknownFields()
	var file File
	if err := decoder.Decode(&file); err != nil {
		return nil, domain.Errorf(domain.Invalid, "the file cannot be read: %v", err)
	}
	if file.Assemblies, err = canonicalAssemblies(file.Assemblies); err != nil {
		return nil, err
	}
	return expandAll(file.register(cat), expand)
}
