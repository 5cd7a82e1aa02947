package db

import (
	"context"
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype"
)

// copyIn copies new records into a noun's table, each at version 1.
//
// The rows are written in COPY's binary form straight into the buffer that is sent. What every row begins with is
// written once, and the types that fill a register are written here, everything else by pgx: the same bytes as
// pgx.CopyFrom sends, for a fraction of its work, so that the program does not hold the server up.
func copyIn[T any](ctx context.Context, tx pgx.Tx, n *noun[T], s scope, entry int64, records []T) error {
	columns := "firm, fit_out, version, entry, " + strings.Join(n.columns, ", ")
	conn := tx.Conn().PgConn()
	described, err := conn.Prepare(ctx, "", "select "+columns+" from "+n.table, nil)
	if err != nil {
		return err
	}
	c := &copied[T]{noun: n, records: records, types: tx.Conn().TypeMap()}
	for _, field := range described.Fields[4:] {
		c.columns = append(c.columns, field.DataTypeOID)
	}
	c.start = binary.BigEndian.AppendUint16(nil, uint16(len(described.Fields)))
	c.start = appendInt8(appendInt8(c.start, int64(s.firm)), int64(s.fitOut))
	c.start = appendInt8(appendInt4(c.start, 1), entry)
	c.pending = append(c.pending, "PGCOPY\n\xff\r\n\x00\x00\x00\x00\x00\x00\x00\x00\x00"...)
	done, err := conn.CopyFrom(ctx, c, "copy "+n.table+" ("+columns+") from stdin (format binary)")
	switch {
	case c.err != nil: // the server only knows that the copy was broken off
		return c.err
	case err != nil:
		return err
	case done.RowsAffected() != int64(len(records)):
		return fmt.Errorf("%d rows were stored of %d", done.RowsAffected(), len(records))
	}
	return nil
}

// copied is the rows of records as a stream in COPY's binary form.
type copied[T any] struct {
	noun    *noun[T]
	records []T // not yet written
	columns []uint32
	types   *pgtype.Map
	start   []byte // of every row: how many values, and those that are the same in all
	pending []byte // written, not yet read from read on
	read    int
	ended   bool
	err     error
}

func (c *copied[T]) Read(into []byte) (int, error) {
	c.pending, c.read = append(c.pending[:0], c.pending[c.read:]...), 0 // the rest of a row that did not fit
	for len(c.pending) < len(into) && len(c.records) > 0 && c.err == nil {
		c.err = c.row(&c.records[0])
		c.records = c.records[1:]
	}
	if len(c.records) == 0 && !c.ended {
		c.pending = append(c.pending, 0xff, 0xff) // no more rows
		c.ended = true
	}
	sent := copy(into, c.pending)
	c.read = sent
	switch {
	case c.err != nil:
		return 0, c.err
	case sent == 0:
		return 0, io.EOF
	}
	return sent, nil
}

func (c *copied[T]) row(record *T) (err error) {
	c.pending = append(c.pending, c.start...)
	for i, value := range c.noun.values(record) {
		if c.pending, err = c.value(c.pending, c.columns[i], value); err != nil {
			return fmt.Errorf("writing %s of %s: %w", c.noun.columns[i], c.noun.code(record), err)
		}
	}
	return nil
}

// value writes one value behind to: its length in bytes, -1 for null, then its bytes.
func (c *copied[T]) value(to []byte, column uint32, value any) ([]byte, error) {
	switch v := value.(type) {
	case nil:
		return null(to), nil
	case string:
		if column == pgtype.TextOID {
			return append(binary.BigEndian.AppendUint32(to, uint32(len(v))), v...), nil
		}
	case int:
		if column == pgtype.Int4OID && fits(v) {
			return appendInt4(to, int32(v)), nil
		}
	case bool:
		if column == pgtype.BoolOID {
			to = append(to, 0, 0, 0, 1, 0)
			if v {
				to[len(to)-1] = 1
			}
			return to, nil
		}
	case float64:
		if column == pgtype.Float8OID {
			return appendInt8(to, int64(math.Float64bits(v))), nil
		}
	case []int:
		if column == pgtype.Int4ArrayOID && len(v) > 0 {
			if out, ok := appendArray(to, len(v), func(i int) int { return v[i] }); ok {
				return out, nil
			}
		}
	case flatList:
		if numbers := v.Dimensions(); column == pgtype.Int4ArrayOID && numbers != nil {
			if out, ok := appendArray(to, int(numbers[0].Length), v.number); ok {
				return out, nil
			}
		}
	}
	return c.byType(to, column, value)
}

// flatList is a flat of any tuple.
type flatList interface {
	Dimensions() []pgtype.ArrayDimension
	number(int) int
}

// byType writes a value as pgx would, and refuses one as pgx would.
func (c *copied[T]) byType(to []byte, column uint32, value any) ([]byte, error) {
	at := len(to)
	out, err := c.types.Encode(column, pgtype.BinaryFormatCode, value, append(to, 0, 0, 0, 0))
	switch {
	case err != nil:
		return to, err
	case out == nil:
		return null(to), nil
	}
	binary.BigEndian.PutUint32(out[at:], uint32(len(out)-at-4))
	return out, nil
}

func null(to []byte) []byte { return append(to, 0xff, 0xff, 0xff, 0xff) }

func appendInt4(to []byte, v int32) []byte {
	return binary.BigEndian.AppendUint32(append(to, 0, 0, 0, 4), uint32(v))
}

func appendInt8(to []byte, v int64) []byte {
	return binary.BigEndian.AppendUint64(append(to, 0, 0, 0, 8), uint64(v))
}

// appendArray writes an int4[] of n numbers, n > 0, unless one is larger than can be kept.
func appendArray(to []byte, n int, at func(int) int) ([]byte, bool) {
	const head, each = 20, 8 // bytes
	out := binary.BigEndian.AppendUint32(to, uint32(head+each*n))
	for _, v := range [...]uint32{1, 0, pgtype.Int4OID, uint32(n), 1} { // dimensions, no nulls, type, length, first index
		out = binary.BigEndian.AppendUint32(out, v)
	}
	for i := range n {
		v := at(i)
		if !fits(v) {
			return to, false
		}
		out = appendInt4(out, int32(v))
	}
	return out, true
}

// fits reports whether an int4 holds v.
func fits(v int) bool { return v >= math.MinInt32 && v <= math.MaxInt32 }
