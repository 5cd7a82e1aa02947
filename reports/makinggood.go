package reports

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"unpick/domain"
	"unpick/domain/licence"
	"unpick/domain/makinggood"
)

// MakingGood writes the making-good workbook: what was agreed against what was built, one row for every hole set
// and remnant, whole planes to redecorate, the rates, and the totals that must agree.
func MakingGood(w io.Writer, in Input) error {
	b := newBook(in, "Making good")
	m := in.Plan.MakingGood
	b.cover("Every hole and every remnant in the landlord's fabric, each with one repair, one price and one sign-off.", []fact{
		{"Holes", b.in.Register.Leaving().TallyHoles().Says() + "; only those to make good are charged"},
		{"Agreed", fmt.Sprintf("%d by the licence; %d made are not covered by it", in.Plan.Summary.HolesAgreed, in.Plan.Summary.Unlicensed)},
		{"Beyond the licence", fmt.Sprintf("%s, listed first", countOf(len(in.Plan.Licence.Beyond), "thing", "things"))},
		{"Joint walk-round", b.walkedWords()},
		{"Remnants", fmt.Sprintf("%s something in the fabric", countOf(m.Balance.Remnants, "row leaves", "rows leave"))},
		{"How long", b.in.howLong()},
		{"Cost of giving back", b.in.totalWords(in.Plan.Schedule.Total) + ", taking out included, as in the reinstatement schedule"},
		{"Not in this figure", b.in.notInFigure()},
	})
	rates := b.distinct(b.repairRates(m))
	b.beyond(in.Plan.Licence)
	b.licence(m.Licence)
	b.licenceItems(in.Plan.Licence)
	b.repairs(m.Rows)
	b.filler(m.Rows)
	b.planes(m.Planes)
	b.buying(m.Buying)
	b.balance(m)
	b.condition()
	b.holeByHole()
	b.holeMaps()
	b.basis(in.Plan.Summary.Basis)
	b.rates(rates)
	b.sources()
	return b.write(w)
}

func (b *book) licence(lines []licence.LicensedSurface) {
	t := b.newTable("Agreed and built", []column{{"Surface", 12, strong}, {"Name", 28, plain}, {"May be fixed to", 11, plain}, {"Clause", 18, plain}, {"Agreed (holes)", 10, whole},
		{"Built (holes)", 10, whole}, {"Works without an item", 10, whole}, {"Too big", 8, whole}, {"Too deep", 8, whole}, {"Other fixings", 8, whole}, {"Beyond the item", 8, whole}, {"Past the count", 8, whole}, {"Not covered", 10, whole}, {"There before", 9, whole}, {"In defects of the start", 9, whole}, {"Of the built, assumed", 9, whole},
		{"Allowed at most", 16, plain}, {"As built", 16, plain}, {"In words", 40, plain}}, a3, len(lines))
	agreed, built, not, before, old := 0, 0, 0, 0, 0
	for _, l := range lines {
		t.add(l.Host, l.HostName, string(l.Rule), l.Clause, l.Agreed, l.Built, l.NoItem, l.OverDia, l.OverDepth, l.WrongKind, l.OutOfItem, l.OverCount, l.Unlicensed, l.Inherited, l.AtDefects, l.Provisional,
			limits(l.LimitMm, l.LimitDeepMm, l.AllowedKinds), limits(l.LargestMm, l.DeepestMm, l.UsedKinds), l.Says)
		agreed, built, not, before, old = agreed+l.Agreed, built+l.Built, not+l.Unlicensed, before+l.Inherited, old+l.AtDefects
	}
	t.total("Total", "A", sum{"E", agreed, ""}, sum{"F", built, ""}, sum{"M", not, ""}, sum{"N", before, ""}, sum{"O", old, ""})
	t.end()
}

func (b *book) repairs(rows []makinggood.Row) {
	currency, digits := b.in.Register.FitOut.Currency, domain.MinorDigits(b.in.Register.FitOut.Currency)
	t := b.newTable("Making good", []column{{"Row", 6, number}, {"Surface", 11, strong}, {"Name", 18, plain}, {"Face", 7, plain}, {"What", 24, plain}, {"Where (mm)", 24, plain},
		{"Stays in it", 16, plain}, {"Quantity", 10, thousand}, {"Unit", 7, plain}, {"How", 34, plain}, {"Filler (ml)", 8, tenths}, {"Labour (min)", 9, whole},
		{"Holes", 7, whole}, {"Charged", 10, plain}, {"Rate key", 16, plain}, {"Rate (" + currency + ")", 11, money}, {"Amount (" + currency + ")", 14, money}, {"Take care", 32, plain},
		{"Done by, date", 14, toFill}, {"Accepted by, date", 14, toFill}}, a3, len(rows))
	minutes, priced, missing, filled := 0, int64(0), 0, first-1
	for _, r := range rows {
		n := t.row + 1
		charged, key := "yes", "repair:"+r.Repair
		if !r.Charged {
			charged, key = "no: "+r.NotOwed, ""
		} else if r.Repair == "" {
			key = "decision:" + r.Host
		}
		filler := any(nil)
		if r.MaterialMl > 0 {
			filled++
			filler = formula{fmt.Sprintf("Filler!$I$%d", filled), r.MaterialMl}
		}
		rate, amount := b.priced(r.Charged, r.RateKnown, r.RateMinor, r.AmountMinor)
		t.add(r.Number, r.Host, r.HostName, string(r.Face), r.Says(), r.Where, r.Leaves, r.Quantity, r.Unit, r.Steps, filler, r.Minutes, holesOf(r), charged, key,
			b.rateFormula(fmt.Sprintf("O%d", n), rate), b.amountFormula(fmt.Sprintf("H%d", n), fmt.Sprintf("P%d", n), digits, amount), r.Caution, r.Done, "")
		minutes += r.Minutes
		priced += r.AmountMinor
		if r.Charged && !r.RateKnown {
			missing++
		}
	}
	t.total("Total", "B", sum{"L", minutes, ""}, b.totalled(t, "P", "Q", priced, missing))
	t.end()
}

// filler works out what to buy for each row that is filled or painted by the hole, so that anybody can do it again: the
// volume, the waste factor and the least a hole are the repair's own.
func (b *book) filler(rows []makinggood.Row) {
	n := 0
	for _, r := range rows {
		if r.MaterialMl > 0 {
			n++
		}
	}
	t := b.newTable("Filler", []column{{"Row", 6, number}, {"Surface", 12, strong}, {"Holes", 8, whole}, {"Filled across (mm)", 9, thousand}, {"Filled deep (mm)", 9, thousand}, {"Volume (ml)", 10, tenths},
		{"Waste factor", 9, thousand}, {"Least a hole (ml)", 9, thousand}, {"Buy (ml)", 10, tenths}, {"By which rule", 44, plain}, {"Source", 36, plain}}, a4, n)
	volume, buy := 0.0, 0.0
	for _, r := range rows {
		if r.MaterialMl == 0 {
			continue
		}
		n := t.row + 1
		rule := b.in.Register.Catalogue.Repairs[r.Repair]
		t.add(r.Number, r.Host, int(r.Quantity), some(r.FilledMm), some(r.FilledDepthMm), formula{fmt.Sprintf("PI()/4*D%d^2*E%d/1000*C%d", n, n, n), r.VolumeMl},
			some(r.WasteFactor), some(r.LeastMl), formula{fmt.Sprintf("MAX(F%d*G%d,H%d*C%d)", n, n, n, n), r.MaterialMl}, rule.Consumption, join(rule.Source, rule.Confirmed))
		volume, buy = volume+r.VolumeMl, buy+r.MaterialMl
	}
	t.total("All", "B", sum{"F", volume, ""}, sum{"I", buy, ""})
	t.end()
}

// holesOf is how many hole faces a row answers for: none where it is for a film or a bruise.
func holesOf(r makinggood.Row) any {
	if r.Hole == "" {
		return nil
	}
	return int(r.Quantity)
}

// priced gives the values that the rate and amount formulas come to now.
func (b *book) priced(charged, known bool, rateMinor, amountMinor int64) (rate, amount any) {
	switch {
	case !charged:
		return "", ""
	case !known:
		return "no rate", ""
	}
	return b.major(rateMinor), b.major(amountMinor)
}

func (b *book) planes(planes []makinggood.Plane) {
	currency, digits := b.in.Register.FitOut.Currency, domain.MinorDigits(b.in.Register.FitOut.Currency)
	t := b.newTable("Redecoration", []column{{"Surface", 11, strong}, {"Name", 24, plain}, {"Area (m2)", 10, thousand}, {"Area from", 26, plain}, {"Repaired places", 10, whole}, {"Finish", 18, plain},
		{"How", 40, plain}, {"Labour (min)", 9, whole}, {"Rate key", 20, plain}, {"Rate (" + currency + ")", 11, money}, {"Amount (" + currency + ")", 14, money}, {"Accepted by, date", 14, toFill}}, a4, len(planes))
	priced, missing := int64(0), 0
	for _, p := range planes {
		n := t.row + 1
		rate, amount := b.priced(p.Done == "", p.RateKnown, p.RateMinor, p.AmountMinor)
		key := "repair:" + p.Repair
		if p.Done != "" {
			key = ""
		}
		t.add(p.Host, p.HostName, p.AreaM2, p.Basis, p.Places, p.Finish, p.Steps, p.Minutes, key,
			b.rateFormula(fmt.Sprintf("I%d", n), rate), b.amountFormula(fmt.Sprintf("C%d", n), fmt.Sprintf("J%d", n), digits, amount), p.Done)
		priced += p.AmountMinor
		if p.Done == "" && !p.RateKnown {
			missing++
		}
	}
	t.total("Total", "A", b.totalled(t, "J", "K", priced, missing))
	t.end()
}

// buying is the list for the merchant, in whole packs.
func (b *book) buying(buys []makinggood.Buy) {
	t := b.newTable("To buy", []column{{"Material", 34, strong}, {"For rows", 40, plain}, {"Surfaces to paint", 10, whole}, {"To buy (ml)", 11, tenths}, {"Pack (ml)", 9, whole}, {"Packs", 7, whole},
		{"Where the pack comes from", 52, plain}}, a4, len(buys))
	for _, x := range buys {
		n := t.row + 1
		t.add(x.Material, rowsWords(x.Rows), some(float64(x.Planes)), x.Ml, x.PackMl, formula{fmt.Sprintf("ROUNDUP(D%d/E%d,0)", n, n), x.Packs},
			"a common pack: common practice, no source; the rates include it")
	}
	t.end()
}

func rowsWords(rows []int) string {
	words := make([]string, len(rows))
	for i, n := range rows {
		words[i] = strconv.Itoa(n)
	}
	return strings.Join(words, ", ")
}

// balance shows that every hole is accounted for: the register's own count beside counts of the rows.
func (b *book) balance(m makinggood.List) {
	rows := max(len(m.Rows), 1) + 1
	col := func(letter string) string { return fmt.Sprintf("'Making good'!$%s$2:$%s$%d", letter, letter, rows) }
	t := b.newTable("Balance", []column{{"What is counted", 52, plain}, {"Number", 10, whole}, {"How it is counted", 66, plain}}, a4, 8)
	held := m.Balance
	t.add("Hole faces in the register that are owed", held.Register, "counted from the register of holes, not from the rows")
	t.add("Hole faces in repair rows", formula{fmt.Sprintf(`SUMIFS(%s,%s,"yes")`, col("M"), col("N")), held.Repaired}, "the column of holes, over the rows that are charged")
	t.add("Hole faces priced, or shown as without a rate", formula{fmt.Sprintf(`SUMIFS(%s,%s,"yes",%s,"<>")`, col("M"), col("N"), col("O")), held.Priced + held.NoRate}, "the rows that hang on a rate key, whether it has a rate yet or not")
	t.add("Rows to sign off", formula{fmt.Sprintf(`COUNTIF(%s,"yes")`, col("N")), held.SignOffs}, "one sign-off a row, films and bruises included")
	t.add("Hole faces there before the tenant, or kept", formula{fmt.Sprintf(`SUMIFS(%s,%s,"no: there before")+SUMIFS(%s,%s,"no: kept")`, col("M"), col("N"), col("M"), col("N")), held.Inherited + held.Kept}, "shown, not charged; kept ones hold what stays")
	t.add("Hole faces made good already", formula{fmt.Sprintf(`SUMIFS(%s,%s,"no: made good")`, col("M"), col("N")), held.Done}, fmt.Sprintf("%d of them signed for by name", held.Signed))
	t.add("Hole faces in defects that the condition record of the start has", formula{fmt.Sprintf(`SUMIFS(%s,%s,"no: in a defect of the start")`, col("M"), col("N")), held.AtDefects}, "shown, not charged; see the sheet Condition")
	verdict := "yes"
	if !held.Agrees {
		verdict = "no"
	}
	t.add(styled{"Do the first three agree?", strong}, styled{formula{`IF(AND(B2=B3,B3=B4),"yes","no")`, verdict}, strong}, "a document whose totals do not agree is not issued")
	t.end()
}

// repairRates lists the rates that the rows and planes hang on.
func (b *book) repairRates(m makinggood.List) []rateLine {
	var out []rateLine
	for _, r := range m.Rows {
		switch {
		case !r.Charged:
		case r.Repair == "":
			out = append(out, rateLine{"decision:" + r.Host, "as the landlord's engineer decides for " + r.HostName, r.Unit})
		default:
			out = append(out, rateLine{"repair:" + r.Repair, b.repairWords(r.Repair), r.Unit})
		}
	}
	for _, p := range m.Planes {
		out = append(out, rateLine{"repair:" + p.Repair, b.repairWords(p.Repair), "m2"})
	}
	return out
}

func (b *book) repairWords(slug string) string {
	r := b.in.Register.Catalogue.Repairs[slug]
	return strings.TrimSpace(r.AppliesTo + ": " + r.Materials)
}
