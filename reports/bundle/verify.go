package bundle

import (
	"archive/zip"
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"path"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/answer"
	"unpick/domain/issue"
)

// The most that is unpacked: a bundle is a job's papers and photos, and a bomb is refused before it goes off.
const (
	mostFiles    = 100_000
	mostUnpacked = 8 << 30
)

// Report is what checking a bundle found.
type Report struct {
	Manifest Manifest
	Checked  []string // what was looked at and is as it should be
	Faults   []string // what is not
	Limits   []string // what nobody can check from the bundle alone

	Unchecked []string // what a bundle should show and this one cannot: it is not known to be whole
}

// Whole reports whether nothing was found wrong, and nothing is left unchecked that a bundle should show.
func (r *Report) Whole() bool { return len(r.Faults)+len(r.Unchecked) == 0 }

func (r *Report) fault(format string, args ...any) {
	r.Faults = append(r.Faults, fmt.Sprintf(format, args...))
}
func (r *Report) checked(format string, args ...any) {
	r.Checked = append(r.Checked, fmt.Sprintf(format, args...))
}

// Verify checks every hash of a bundle and says what, if anything, was altered. Invalid: it is no bundle at all.
func Verify(file []byte) (*Report, error) {
	r := &Report{}
	carries, whole := sealed(file)
	archive, err := zip.NewReader(bytes.NewReader(file), int64(len(file)))
	if err != nil {
		if bytes.HasPrefix(file, []byte("PK")) || carries {
			r.fault("the file cannot be opened as a zip file any more (%v): it is cut short or altered", err)
			return r, nil
		}
		return nil, domain.Errorf(domain.Invalid, "this is no evidence bundle: it is not a zip file")
	}
	contents := r.unpack(archive)
	if contents == nil {
		return r, nil
	}
	if _, ok := contents[manifestName]; !ok && !carries {
		return nil, domain.Errorf(domain.Invalid, "this is no evidence bundle: it has no %s and no seal", manifestName)
	}
	switch {
	case !carries:
		r.fault("the seal is gone: the comment at the end of the file does not begin as it should")
	case !whole:
		r.fault("the seal is broken: something in the file is not as it was when it was sealed")
	default:
		r.checked("the seal over the whole file, %d bytes", len(file))
	}
	r.files(contents)
	entries := r.log(contents[logName])
	r.register(contents[registerName], entries)
	r.named(contents, entries)
	r.sent(contents, entries)
	r.photos(contents, entries)
	r.Limits = append(r.Limits, "that the log itself is the old one: compare its head, "+r.Manifest.Head+", or an earlier hash, with the one printed on a document that the other party kept")
	return r, nil
}

// unpack reads every file; nil where there is too much of it.
func (r *Report) unpack(archive *zip.Reader) map[string][]byte {
	if len(archive.File) > mostFiles {
		r.fault("it holds %d files: no bundle has over %d", len(archive.File), mostFiles)
		return nil
	}
	out := map[string][]byte{}
	left := int64(mostUnpacked)
	for _, f := range archive.File {
		if path.Clean(f.Name) != f.Name || path.IsAbs(f.Name) || strings.HasPrefix(f.Name, "..") || strings.Contains(f.Name, "\\") {
			r.fault("it holds a file with the name %.80q, which leads outside", f.Name)
			continue
		}
		if _, twice := out[f.Name]; twice {
			r.fault("it holds %s twice", f.Name)
			continue
		}
		in, err := f.Open()
		if err != nil {
			r.fault("%s cannot be unpacked: %v", f.Name, err)
			continue
		}
		content, err := io.ReadAll(io.LimitReader(in, left+1))
		in.Close()
		if left -= int64(len(content)); left < 0 {
			r.fault("it unpacks to over %d bytes: it is no bundle of papers", int64(mostUnpacked))
			return nil
		}
		if err != nil {
			r.fault("%s is damaged: %v", f.Name, err)
		}
		out[f.Name] = content
	}
	return out
}

// files holds every file to the manifest, and the manifest to the files.
func (r *Report) files(contents map[string][]byte) {
	text, ok := contents[manifestName]
	if !ok {
		r.fault("%s is gone", manifestName)
		return
	}
	if err := json.Unmarshal(text, &r.Manifest); err != nil || r.Manifest.Format != Format {
		r.fault("%s cannot be read as the manifest of a bundle", manifestName)
		return
	}
	if v := r.Manifest.FormatVersion; v < withoutReturned || v > FormatVersion {
		r.fault("the bundle is of version %d and this program checks versions %d to %d: use the program that made it, or a newer one", v, withoutReturned, FormatVersion)
		return
	}
	listed := map[string]bool{manifestName: true}
	good := 0
	for _, f := range r.Manifest.Files {
		listed[f.Name] = true
		content, ok := contents[f.Name]
		switch {
		case !ok:
			r.fault("%s is gone", f.Name)
		case sumOf(content) != f.SHA256 || int64(len(content)) != f.Bytes:
			r.fault("%s was altered: it has not the hash that the manifest gives it", f.Name)
		default:
			good++
		}
	}
	for _, name := range sortedNames(contents) {
		if !listed[name] {
			r.fault("%s was added: the manifest does not know it", name)
		}
	}
	if good == len(r.Manifest.Files) {
		r.checked("%d files against the manifest", good)
	}
}

// log follows the chain from the first entry to the head. It answers the entries that it could follow.
func (r *Report) log(text []byte) []domain.LogEntry {
	var entries []domain.LogEntry
	before := domain.LogEntry{Hash: domain.LogStart()}
	lines := bufio.NewScanner(bytes.NewReader(text))
	lines.Buffer(nil, max(len(text), 1)+1)
	for lines.Scan() {
		var e domain.LogEntry
		if err := json.Unmarshal(lines.Bytes(), &e); err != nil {
			r.fault("the log's line %d cannot be read: %v", len(entries)+1, err)
			return entries
		}
		if why := before.Follows(e); why != "" {
			r.fault("the log's chain is broken at line %d: %s", len(entries)+1, why)
			return entries
		}
		entries, before = append(entries, e), e
	}
	if before.Hash != r.Manifest.Head || before.Number != r.Manifest.Entries {
		r.fault("the log ends with entry %d, %s, and the manifest gives entry %d, %s, as its head", before.Number, before.Hash, r.Manifest.Entries, r.Manifest.Head)
		return entries
	}
	r.checked("the chain of the log, %d entries, to its head %s", len(entries), before.Hash)
	return entries
}

// named holds photos and workbooks that came back to their names, and documents to the hashes that the log has of them.
func (r *Report) named(contents map[string][]byte, entries []domain.LogEntry) {
	photos, issues, back := 0, 0, 0
	for _, name := range sortedNames(contents) {
		sum := sumOf(contents[name])
		stem := strings.TrimSuffix(name, path.Ext(name))
		switch {
		case strings.HasPrefix(name, photoFolder):
			if stem != photoFolder+sum {
				r.fault("%s was altered: a photo has the hash of its bytes as its name", name)
				continue
			}
			if !mentioned(entries, sum) {
				r.fault("%s was added: the log knows no such photo", name)
				continue
			}
			photos++
		case strings.HasPrefix(name, issueFolder):
			if !mentioned(entries, sum) {
				r.fault("%s was altered or added: the log has no issue with its hash", name)
				continue
			}
			issues++
		case strings.HasPrefix(name, backFolder):
			if !strings.HasSuffix(stem, "-"+sum) {
				r.fault("%s was altered: the name of a workbook that came back ends in the hash of its bytes", name)
				continue
			}
			if !mentioned(entries, sum) {
				r.Unchecked = append(r.Unchecked, fmt.Sprintf("%s: the log knows no such workbook. It was added, or it came back to a program that logged a workbook only once somebody took what it says", name))
				continue
			}
			back++
		}
	}
	r.checked("%d photos, %d issued documents and %d workbooks that came back against the log", photos, issues, back)
}

// sent holds the log to the files: every document that the log says was issued is there, and every workbook that came back.
func (r *Report) sent(contents map[string][]byte, entries []domain.LogEntry) {
	there := map[string]bool{}
	for name, content := range contents {
		if strings.HasPrefix(name, issueFolder) || strings.HasPrefix(name, backFolder) {
			there[sumOf(content)] = true
		}
	}
	gone := map[string]bool{} // a workbook that was received and then taken is in two entries
	for _, e := range entries {
		var c struct {
			Issue    json.RawMessage `json:"issue"` // an issue, or the number of one
			Returned answer.Returned `json:"returned"`
			From     string          `json:"from"` // of what was said: the hash of the workbook that said it
		}
		if json.Unmarshal(e.Change, &c) != nil {
			continue // told already, or no such entry
		}
		var is issue.Issue
		if json.Unmarshal(c.Issue, &is) == nil && is.SHA256 != "" && !there[is.SHA256] {
			r.fault("issue %d of %s is gone: entry %d of the log has its hash", is.Number, is.Document, e.Number)
		}
		if p := is.Print; p != nil && !there[p.SHA256] {
			r.fault("the print of issue %d, %s, is gone: entry %d of the log has its hash", is.Number, p.Document, e.Number)
		}
		for _, sum := range []string{c.Returned.SHA256, c.From} {
			if len(sum) != digits || there[sum] || gone[sum] {
				continue
			}
			gone[sum] = true
			if r.Manifest.FormatVersion == withoutReturned {
				r.Unchecked = append(r.Unchecked, fmt.Sprintf("the workbook of entry %d of the log, which came back, is not in the bundle: bundles of version %d lack them", e.Number, withoutReturned))
				continue
			}
			r.fault("a workbook that came back is gone: entry %d of the log has its hash, %s", e.Number, sum)
		}
	}
}

// mentioned reports whether a hash stands in what was logged.
func mentioned(entries []domain.LogEntry, sum string) bool {
	return slices.ContainsFunc(entries, func(e domain.LogEntry) bool { return bytes.Contains(e.Change, []byte(sum)) })
}

func sumOf(content []byte) string {
	sum := sha256.Sum256(content)
	return hex.EncodeToString(sum[:])
}

func sortedNames(contents map[string][]byte) []string {
	names := make([]string, 0, len(contents))
	for name := range contents {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}
