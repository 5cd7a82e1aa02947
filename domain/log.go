package domain

import (
	"bufio"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"strconv"
	"strings"
)

// LogFormat is the first field of every entry's byte form; another form gets another name.
const LogFormat = "unpick-log-1"

// LogEntry is one entry of the append-only log of a fit-out. Entries are numbered from 1 without a gap and each
// holds the hash of the one before, so that whoever knows one hash can check everything up to it.
//
// The hash is SHA-256, in lower-case hexadecimal, over these ten fields in this order: LogFormat, Number in decimal,
// Previous, Who, DeviceTime, ServerTime, Kind, What, Change, and the word "end". Each field is written as its length in
// bytes in decimal, a colon, its UTF-8 bytes as they stand, and a comma. Change is the exact JSON text of the entry.
type LogEntry struct {
	Number     int64           `json:"number"`
	Who        string          `json:"who"`
	DeviceTime string          `json:"device_time,omitempty"` // as the device sent it, "" when it sent none
	ServerTime string          `json:"server_time"`           // UTC to the microsecond: "2026-03-14T09:26:53.589793Z"
	Kind       ChangeKind      `json:"kind"`
	What       string          `json:"what"`
	Change     json.RawMessage `json:"change"`   // compact JSON: reading and writing it again does not change a byte
	Previous   string          `json:"previous"` // hash of the entry before; LogStart for the first
	Hash       string          `json:"hash"`
}

// LogStart stands for the hash before the first entry: 64 zeros.
func LogStart() string { return strings.Repeat("0", 2*sha256.Size) }

// LogTime is the layout of ServerTime, for UTC.
const LogTime = "2006-01-02T15:04:05.000000Z"

// Sum computes the hash of e from its other fields. It equals e.Hash unless somebody tampered with the entry.
func (e LogEntry) Sum() string {
	h := sha256.New()
	var size []byte
	for _, field := range []string{LogFormat, strconv.FormatInt(e.Number, 10), e.Previous, e.Who, e.DeviceTime, e.ServerTime,
		string(e.Kind), e.What, string(e.Change), "end"} {
		size = append(strconv.AppendInt(size[:0], int64(len(field)), 10), ':')
		h.Write(size)
		h.Write([]byte(field))
		h.Write([]byte{','})
	}
	return hex.EncodeToString(h.Sum(nil))
}

// Next is a new entry behind e, hashed; the zero entry has the first one behind it.
func (e LogEntry) Next(who Actor, serverTime string, kind ChangeKind, what string, change json.RawMessage) LogEntry {
	next := LogEntry{Number: e.Number + 1, Who: who.Name, DeviceTime: who.DeviceTime, ServerTime: serverTime,
		Kind: kind, What: what, Change: change, Previous: e.Hash}
	if e.Number == 0 {
		next.Previous = LogStart()
	}
	next.Hash = next.Sum()
	return next
}

// Follows says in a sentence why next cannot be the entry behind e, "" when it can.
func (e LogEntry) Follows(next LogEntry) string {
	previous := e.Hash
	if e.Number == 0 {
		previous = LogStart()
	}
	switch {
	case next.Number != e.Number+1:
		return "entry " + strconv.FormatInt(e.Number+1, 10) + " is missing"
	case next.Previous != previous:
		return "entry " + strconv.FormatInt(next.Number, 10) + " does not hold the hash of the entry before it"
	case next.Sum() != next.Hash:
		return "entry " + strconv.FormatInt(next.Number, 10) + " does not have the hash of what it says"
	}
	return ""
}

// Counts is how many records of each noun there are.
type Counts struct {
	Zones      int `json:"zones"`
	Hosts      int `json:"hosts"`
	Assemblies int `json:"assemblies"`
	Elements   int `json:"elements"`
	Fixings    int `json:"fixings"`
	Holes      int `json:"holes"`
	Relations  int `json:"relations"`
	Prices     int `json:"prices"`
	SignOffs   int `json:"sign_offs,omitempty"`
}

// CountsOf counts records.
func CountsOf(r Records) Counts {
	return Counts{len(r.Zones), len(r.Hosts), len(r.Assemblies), len(r.Elements), len(r.Fixings), len(r.Holes),
		len(r.Relations), len(r.Prices), len(r.SignOffs)}
}

// Imported is what the log keeps of a register that was imported whole. The records themselves stay in the file that
// was imported; RecordsSHA256 shows that it is the one, see SumRecords.
type Imported struct {
	Kind          ChangeKind `json:"kind"`
	What          string     `json:"what"`
	FitOut        FitOut     `json:"fit_out"`
	Counts        Counts     `json:"imported"`
	RecordsSHA256 string     `json:"records_sha256"`
}

// SumRecords is the SHA-256, in lower-case hexadecimal, over the compact JSON of each record followed by a line feed:
// zones, hosts, assemblies, elements, fixings, holes, relations, prices, sign-offs, each in the order given. An import puts every
// version at 1 and each noun in order of code first.
func SumRecords(r Records) (string, error) {
	h := sha256.New()
	to := bufio.NewWriterSize(h, 1<<16)
	lines := json.NewEncoder(to)
	err := errors.Join(writeLines(lines, r.Zones), writeLines(lines, r.Hosts), writeLines(lines, r.Assemblies),
		writeLines(lines, r.Elements), writeLines(lines, r.Fixings), writeLines(lines, r.Holes),
		writeLines(lines, r.Relations), writeLines(lines, r.Prices), writeLines(lines, r.SignOffs), to.Flush())
	if err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

func writeLines[T any](lines *json.Encoder, records []T) error {
	for i := range records {
		if err := lines.Encode(&records[i]); err != nil {
			return err
		}
	}
	return nil
}
