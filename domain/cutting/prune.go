package cutting

// trim brings in, for listed patterns that make more than is now open, what they make of it: the list has only patterns
// to which nothing can be added. What no cutting within the aim can use is left out.
func (m *master) trim() {
	for n := range len(m.patterns) {
		q := &m.patterns[n]
		if m.program.banned[int(m.first)+n] || m.left[q.stock] == 0 || m.proper(q) {
			continue
		}
		reduced := m.rent[q.stock]
		short := pattern{stock: q.stock}
		for k, i := range q.item {
			if count := min(q.count[k], int32(m.need[i])); count > 0 {
				short.item, short.count = append(short.item, i), append(short.count, count)
				reduced -= m.duals.value[i] * int64(count)
			}
		}
		if len(short.item) > 0 && reduced <= m.room {
			m.bring(short)
		}
	}
}

// beyond says whether a bound on what is open, in 1/scale, leaves nothing to be found here.
func (m *master) beyond(worth int64) bool {
	least := m.attain.atLeast(m.spent + m.duals.up(worth))
	return least >= m.cheap || least > m.aim
}

// banUseless bans the patterns that no cutting within the aim can use from here on, by their reduced cost in whole numbers.
func (m *master) banUseless() {
	d := &m.duals
	over, under := m.shrink(d, m.left)
	room := (min(m.aim, m.cheap-1)-m.spent)*d.scale + d.money*m.budgetLeft
	for i, v := range d.value {
		v = mulDiv(v, over, under)
		if m.short[i] > 0 {
			v = min(v, m.short[i]*d.scale)
		}
		d.value[i] = v
		room -= v * int64(m.need[i])
	}
	price := m.rent
	for s := range m.stock {
		price[s] = mulDiv(d.best[s], over, under)
		switch rent := price[s] - d.price[s]; {
		case rent > 0:
			room += int64(m.left[s]) * rent
		case m.low[s] > 0:
			room += int64(m.low[s]) * rent
		default:
			price[s] = d.price[s]
		}
	}
	m.room = room
	for n := range m.patterns {
		j := int(m.first) + n
		if m.program.banned[j] || m.program.at[j] >= 0 {
			continue
		}
		q := &m.patterns[n]
		reduced := price[q.stock]
		for k, i := range q.item {
			reduced -= d.value[i] * int64(q.count[k])
		}
		if reduced > room {
			m.program.banned[j] = true
		}
	}
}
