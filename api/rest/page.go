package rest

import (
	"context"
	"encoding/base64"
	"strconv"

	"unpick/domain"
)

const defaultLimit = 100

// paged asks for one page of a list and one record more, which says whether there is a next page.
func paged[To, From any](limit *int, cursor *string, list func(after string, limit int) ([]From, error), keyOf func(From) string) ([]To, *string, error) {
	most := defaultLimit
	if limit != nil {
		most = *limit
	}
	after, err := readCursor(cursor)
	if err != nil {
		return nil, nil, err
	}
	found, err := list(after, most+1)
	if err != nil {
		return nil, nil, err
	}
	var next *string
	if len(found) > most {
		found = found[:most]
		c := writeCursor(keyOf(found[most-1]))
		next = &c
	}
	items := make([]To, len(found))
	for i, f := range found {
		if items[i], err = turned[To](f); err != nil {
			return nil, nil, err
		}
	}
	return items, next, nil
}

// noun is how api/service lists one noun of a fit-out.
type noun[T any] interface {
	Page(ctx context.Context, fitOut, after string, limit int) ([]T, error)
}

func nounPage[To, From any](ctx context.Context, n noun[From], fitOut string, limit *int, cursor *string, codeOf func(From) string) ([]To, *string, error) {
	return paged[To](limit, cursor, func(after string, limit int) ([]From, error) { return n.Page(ctx, fitOut, after, limit) }, codeOf)
}

// writeCursor hides the last key of a page: nobody is to build one.
func writeCursor(key string) string { return base64.RawURLEncoding.EncodeToString([]byte(key)) }

func readCursor(cursor *string) (string, error) {
	if cursor == nil {
		return "", nil
	}
	key, err := base64.RawURLEncoding.Strict().DecodeString(*cursor)
	if err != nil || len(key) == 0 {
		return "", badCursor()
	}
	return string(key), nil
}

func readNumberCursor(cursor string) (int64, error) {
	if cursor == "" {
		return 0, nil
	}
	number, err := strconv.ParseInt(cursor, 10, 64)
	if err != nil || number < 0 {
		return 0, badCursor()
	}
	return number, nil
}

func badCursor() error {
	return domain.FieldErrorf(domain.Invalid, "query cursor", "is no cursor of this list: send next of the page before as it came, or leave it out")
}
