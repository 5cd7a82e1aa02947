package db

import (
	"encoding/json"

	"github.com/jackc/pgx/v5/pgtype"

	"unpick/domain"
)

// flat keeps a list of small tuples of whole numbers as one flat int[]: three numbers for a point or a direction, two
// for a point on a face. An empty list is null. T's numbers are found by part.
type flat[T any] struct {
	list *[]T
	size int
	part func(*T, int) *int
}

func (f flat[T]) Dimensions() []pgtype.ArrayDimension {
	if len(*f.list) == 0 {
		return nil
	}
	return []pgtype.ArrayDimension{{Length: int32(len(*f.list) * f.size), LowerBound: 1}}
}

func (f flat[T]) number(i int) int    { return *f.part(&(*f.list)[i/f.size], i%f.size) }
func (f flat[T]) Index(i int) any     { return f.number(i) }
func (f flat[T]) IndexType() any      { return int(0) }
func (f flat[T]) ScanIndex(i int) any { return f.part(&(*f.list)[i/f.size], i%f.size) }
func (f flat[T]) ScanIndexType() any  { return new(int) }

func (f flat[T]) SetDimensions(dimensions []pgtype.ArrayDimension) error {
	*f.list = nil
	if len(dimensions) > 0 {
		*f.list = make([]T, int(dimensions[0].Length)/f.size)
	}
	return nil
}

// MarshalJSON writes the flat list, for a record that is amended.
func (f flat[T]) MarshalJSON() ([]byte, error) {
	if len(*f.list) == 0 {
		return []byte("null"), nil
	}
	numbers := make([]int, len(*f.list)*f.size)
	for i := range numbers {
		numbers[i] = f.number(i)
	}
	return json.Marshal(numbers)
}

func points(list *[]domain.Point) flat[domain.Point] {
	return flat[domain.Point]{list, 3, func(p *domain.Point, i int) *int { return [...]*int{&p.X, &p.Y, &p.Z}[i] }}
}

func directions(list *[]domain.Direction) flat[domain.Direction] {
	return flat[domain.Direction]{list, 3, func(d *domain.Direction, i int) *int { return [...]*int{&d.X, &d.Y, &d.Z}[i] }}
}

func facePoints(list *[]domain.FacePoint) flat[domain.FacePoint] {
	return flat[domain.FacePoint]{list, 2, func(p *domain.FacePoint, i int) *int { return [...]*int{&p.AlongMm, &p.AcrossMm}[i] }}
}
