// Package returned reads workbooks that were sent out and come back: foreign bytes, of which nothing is believed.
//
// The idea: a file is held against limits before anything of it is unpacked, and read as a stream; headings are found by
// their words and rows by their item numbers, so that sorting, hiding, moving and widening change nothing. Everything
// wrong is told with its sheet and cell, all at once, and then nothing of the file is used.
//
// Looking for
//
//   - opening, and which issue a file is a copy of: this file; what is refused unread: guard.go
//   - cells as they stand, formulas and merged cells with their places: sheet.go
//   - the reinstatement schedule's rows: schedule.go; the register's: register.go
package returned

import (
	"archive/zip"
	"bytes"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"unpick/domain"
	"unpick/reports"
)

// The most that is taken. A schedule has hundreds of rows; the limits are far above that and far below what would hurt.
const (
	MostBytes    = 8 << 20  // of the file
	mostUnpacked = 64 << 20 // of everything in it together
	mostParts    = 2000     // files in it
	mostRows     = 20_000   // rows that hold anything
	mostLines    = 200_000  // rows at all
	mostCells    = 2_000_000
)

// Book is a workbook that came back.
type Book struct {
	file  *excelize.File
	parts map[string]*zip.File
}

// Open reads a workbook within limits. It refuses what is no workbook, or one with macros, links to other files or a
// password. Close it.
func Open(content []byte) (*Book, error) {
	parts, err := guarded(content)
	if err != nil {
		return nil, err
	}
	file, err := excelize.OpenReader(bytes.NewReader(content), excelize.Options{UnzipSizeLimit: mostUnpacked, UnzipXMLSizeLimit: mostUnpacked, RawCellValue: true})
	if err != nil {
		return nil, domain.Errorf(domain.Invalid, "the file cannot be read as a workbook (%v): open it in the spreadsheet program and save it anew as .xlsx", err)
	}
	return &Book{file, parts}, nil
}

// Close lets go of what is held.
func (b *Book) Close() error { return b.file.Close() }

// Identity is which issue a workbook says that it is a copy of.
type Identity struct {
	FitOut   string
	Document string
	Issue    int
	Head     string
}

// Identity reads the cover.
func (b *Book) Identity() (Identity, error) {
	var id Identity
	s, err := b.sheet("Cover")
	if err != nil {
		return id, err
	}
	facts := map[string]found{}
	for _, row := range s.rows {
		if len(row.cells) > 1 {
			facts[row.cells[0].text] = found{row.cells[1].text, s.at(1, row.number)}
		}
	}
	issued := facts[reports.FactIssue]
	if strings.HasPrefix(issued.text, "DRAFT") {
		return id, domain.FieldErrorf(domain.Refused, issued.at, "this is a draft: only an issue can be answered")
	}
	id.FitOut, id.Document, id.Head = facts[reports.FactFitOut].text, facts[reports.FactDocument].text, facts[reports.FactHead].text
	id.Issue, err = strconv.Atoi(issued.text)
	if id.FitOut == "" || id.Document == "" || err != nil || len(id.Head) != 64 {
		return id, domain.FieldErrorf(domain.Invalid, "Cover", "this is no copy of an issue: the cover does not say which fit-out, document and issue it is; send the workbook that went out, with its cover as it was")
	}
	return id, nil
}

type found struct{ text, at string }
