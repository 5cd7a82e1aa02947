package bundle

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"time"

	"unpick/domain"
	"unpick/domain/fitoutfile"
)

// Format names the form of a bundle's manifest. Bundles of version 1 lack the workbooks that came back.
const (
	Format        = "unpick-evidence"
	FormatVersion = 2

	withoutReturned = 1
)

// The files that every bundle has.
const (
	readmeName   = "READ-ME-FIRST.txt"
	manifestName = "manifest.json"
	registerName = "register.json"
	logName      = "log.jsonl"
	photoFolder  = "photos/"
	issueFolder  = "issues/"
	backFolder   = "returned/"
)

// Manifest is what a bundle says of itself.
type Manifest struct {
	Format        string `json:"format"`
	FormatVersion int    `json:"format_version"`
	FitOut        string `json:"fit_out"`
	Name          string `json:"name"`
	MadeAt        string `json:"made_at"`
	MadeBy        string `json:"made_by"`
	Entries       int64  `json:"log_entries"`
	Head          string `json:"log_head"`
	Files         []File `json:"files"`
}

// File is one file of a bundle.
type File struct {
	Name   string `json:"name"`
	Bytes  int64  `json:"bytes"`
	SHA256 string `json:"sha256"`
}

// Content is a photo, an issued document or a workbook that came back, to put into a bundle: its name in its folder, and its bytes.
type Content struct {
	Name  string
	Bytes []byte
}

// Input is what a bundle is made of. Log is the whole log, oldest first, and Register what it comes to.
type Input struct {
	Register *domain.Register
	Log      []domain.LogEntry
	Photos   []Content // named by the SHA-256 of their bytes, with an ending
	Issues   []Content
	Returned []Content // their names end in the SHA-256 of their bytes, with an ending
	MadeAt   time.Time
	MadeBy   string
}

// Write writes a bundle, sealed. The same input gives the same bytes.
func Write(w io.Writer, in Input) error {
	var out bytes.Buffer
	b := writer{zip: zip.NewWriter(&out), at: in.MadeAt.UTC(), manifest: Manifest{Format: Format, FormatVersion: FormatVersion,
		FitOut: in.Register.FitOut.Code, Name: in.Register.FitOut.Name, MadeAt: in.MadeAt.UTC().Format(time.RFC3339), MadeBy: in.MadeBy, Head: domain.LogStart()}}
	if n := len(in.Log); n > 0 {
		b.manifest.Entries, b.manifest.Head = in.Log[n-1].Number, in.Log[n-1].Hash
	}
	var register, entries bytes.Buffer
	if err := fitoutfile.Write(&register, in.Register); err != nil {
		return err
	}
	lines := json.NewEncoder(&entries)
	lines.SetEscapeHTML(false)
	for i := range in.Log {
		if err := lines.Encode(&in.Log[i]); err != nil {
			return fmt.Errorf("writing the log into a bundle: %w", err)
		}
	}
	b.file(readmeName, []byte(readme(b.manifest)))
	b.file(registerName, register.Bytes())
	b.file(logName, entries.Bytes())
	for _, p := range in.Photos {
		b.file(photoFolder+p.Name, p.Bytes)
	}
	for _, p := range in.Issues {
		b.file(issueFolder+p.Name, p.Bytes)
	}
	for _, p := range in.Returned {
		b.file(backFolder+p.Name, p.Bytes)
	}
	manifest, err := json.MarshalIndent(b.manifest, "", "  ")
	if err != nil {
		return fmt.Errorf("writing a bundle's manifest: %w", err)
	}
	b.file(manifestName, append(manifest, '\n'))
	b.keep(b.zip.SetComment(unsealed))
	b.keep(b.zip.Close())
	if b.err != nil {
		return fmt.Errorf("writing a bundle: %w", b.err)
	}
	file := out.Bytes()
	if err := seal(file); err != nil {
		return err
	}
	_, err = w.Write(file)
	return err
}

// writer keeps the first fault; the rest of the writing then does nothing.
type writer struct {
	zip      *zip.Writer
	at       time.Time
	manifest Manifest
	err      error
}

func (b *writer) keep(err error) {
	if b.err == nil {
		b.err = err
	}
}

func (b *writer) file(name string, content []byte) {
	if b.err != nil {
		return
	}
	to, err := b.zip.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: b.at})
	if b.keep(err); err != nil {
		return
	}
	_, err = to.Write(content)
	b.keep(err)
	if name == manifestName {
		return
	}
	sum := sha256.Sum256(content)
	b.manifest.Files = append(b.manifest.Files, File{name, int64(len(content)), hex.EncodeToString(sum[:])})
}
