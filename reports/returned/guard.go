package returned

import (
	"archive/zip"
	"bytes"
	"strings"

	"unpick/domain"
)

// guarded lists the parts of a workbook, by name in lower case, and refuses a file by what it is made of. Nothing is
// unpacked. A part that says a smaller size than it has fails when it is read: archive/zip stops there.
func guarded(content []byte) (map[string]*zip.File, error) {
	switch {
	case len(content) == 0:
		return nil, domain.Errorf(domain.Invalid, "the file is empty: choose the workbook that came back")
	case len(content) > MostBytes:
		return nil, domain.Errorf(domain.TooLarge, "the file is larger than %d MB: a schedule is far smaller; take out pictures, or send the workbook that went out", MostBytes>>20)
	case bytes.HasPrefix(content, []byte{0xD0, 0xCF, 0x11, 0xE0}):
		return nil, domain.Errorf(domain.Invalid, "this is an old .xls file, or a workbook with a password: save it as .xlsx without a password")
	}
	z, err := zip.NewReader(bytes.NewReader(content), int64(len(content)))
	if err != nil {
		return nil, domain.Errorf(domain.Invalid, "this is no workbook (.xlsx), whatever its name says: choose the workbook that came back")
	}
	if len(z.File) > mostParts {
		return nil, domain.Errorf(domain.TooLarge, "the file has %d parts, a workbook has some dozens: it is not read", len(z.File))
	}
	parts := make(map[string]*zip.File, len(z.File))
	unpacked := uint64(0)
	for _, part := range z.File {
		name := strings.ToLower(strings.ReplaceAll(part.Name, `\`, "/"))
		if _, twice := parts[name]; twice {
			return nil, domain.Errorf(domain.Invalid, "the file holds %q twice: it is not read; save it anew as .xlsx", part.Name)
		}
		parts[name] = part
		if unpacked += part.UncompressedSize64; part.UncompressedSize64 > mostUnpacked || unpacked > mostUnpacked {
			return nil, domain.Errorf(domain.TooLarge, "the file unpacks to more than %d MB: it is not read", mostUnpacked>>20)
		}
		switch {
		case strings.HasSuffix(name, "vbaproject.bin"), strings.Contains(name, "/macrosheets/"), strings.Contains(name, "/dialogsheets/"):
			return nil, domain.Errorf(domain.Refused, "the workbook holds macros (%s): save it as .xlsx without macros", part.Name)
		case strings.Contains(name, "/externallinks/"), strings.HasSuffix(name, "/connections.xml"), strings.Contains(name, "/querytables/"):
			return nil, domain.Errorf(domain.Refused, "the workbook links to other files (%s): break the links and save it again", part.Name)
		case strings.Contains(name, "/activex/"), strings.Contains(name, "/embeddings/"):
			return nil, domain.Errorf(domain.Refused, "the workbook holds embedded objects (%s): take them out and save it again", part.Name)
		}
	}
	if parts["xl/workbook.xml"] == nil {
		return nil, domain.Errorf(domain.Invalid, "this is no workbook (.xlsx), whatever its name says: choose the workbook that came back, or save it as .xlsx")
	}
	return parts, nil
}
