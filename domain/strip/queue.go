package strip

// queue is a binary heap: its first item is the one that goes first. moved, where it is set, is told where an item
// stands, -1 once it is out, so that an item that changes can be put where it now belongs.
type queue[T any] struct {
	items []T
	first func(a, b T) bool
	moved func(item T, at int)
}

// put adds an item that stands nowhere yet, or moves one that has changed to where it now belongs.
func (q *queue[T]) put(item T, at int) {
	if at < 0 {
		at = len(q.items)
		q.items = append(q.items, item)
		q.tell(at)
	}
	if !q.up(at) {
		q.down(at)
	}
}

// take removes the item at a place.
func (q *queue[T]) take(at int) T {
	out, last := q.items[at], len(q.items)-1
	q.swap(at, last)
	q.items = q.items[:last]
	if at < last && !q.up(at) {
		q.down(at)
	}
	if q.moved != nil {
		q.moved(out, -1)
	}
	return out
}

func (q *queue[T]) up(at int) (moved bool) {
	for at > 0 {
		parent := (at - 1) / 2
		if !q.first(q.items[at], q.items[parent]) {
			break
		}
		q.swap(at, parent)
		at, moved = parent, true
	}
	return moved
}

func (q *queue[T]) down(at int) {
	for {
		child := 2*at + 1
		if child >= len(q.items) {
			return
		}
		if child+1 < len(q.items) && q.first(q.items[child+1], q.items[child]) {
			child++
		}
		if !q.first(q.items[child], q.items[at]) {
			return
		}
		q.swap(at, child)
		at = child
	}
}

func (q *queue[T]) swap(i, j int) {
	q.items[i], q.items[j] = q.items[j], q.items[i]
	q.tell(i)
	q.tell(j)
}

func (q *queue[T]) tell(at int) {
	if q.moved != nil {
		q.moved(q.items[at], at)
	}
}
