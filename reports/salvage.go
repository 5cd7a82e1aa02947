package reports

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/salvage"
)

// Salvage writes the salvage inventory: every piece that comes out and what it is good for, by material, the
// fixings that come back, and the waste that is left.
func Salvage(w io.Writer, in Input) error {
	b := newBook(in, "Salvage inventory")
	t := in.Plan.Salvage.Totals
	b.cover("What comes out, piece by piece, as it is expected to be, and as it was found once it was out.", []fact{
		{"Pieces kept", fmt.Sprintf("%d of %d, %.0f of %.0f kg", t.Kept, t.Pieces, t.KeptKg, t.MassKg)},
		{"Value kept", b.in.valueWords(t)},
		{"Carbon kept", fmt.Sprintf("%.0f kg CO2e of making the same pieces new (modules A1-A3); %.0f kg CO2 stored in the timber (EN 16449). Two figures, not one sum.", t.EmbodiedKg, t.StoredKg)},
		{"Fixings", in.fixingWords(t)},
		{"Found so far", foundWords(t)},
		{"Room to store it", fmt.Sprintf("about %.1f m3 in stacks, by factors of common practice", t.StackedM3)},
		{"Worth keeping", leastWords()},
	})
	b.pieces(in.Plan.Salvage.Pieces)
	b.share(t.Share)
	b.byMaterial(in.Plan.Salvage.Pieces)
	b.fixingsBack(in.Plan.Salvage.Fixings)
	b.saves(in.Plan.Salvage.Savings)
	b.waste(in.Plan.Salvage.Waste)
	b.comesApart(in.Plan.ComesApart)
	b.sources()
	return b.write(w)
}

func (in Input) valueWords(t salvage.Totals) string {
	currency := in.Register.FitOut.Currency
	words := domain.FormatMoney(t.ValueMinor, currency) + " at the price of the same pieces new, for what is kept whole or cut to length"
	switch {
	case t.Downgraded > 0 && t.Share.Known:
		words += fmt.Sprintf("; %s for %s kept downgraded, %d %% of %s new", domain.FormatMoney(t.DowngradedMinor, currency), countOf(t.Downgraded, "piece", "pieces"),
			t.Share.Percent, domain.FormatMoney(t.DowngradedNewMinor, currency))
	case t.Downgraded > 0:
		words += fmt.Sprintf("; %s kept downgraded, %s new, of which the firm's list gives no share", countOf(t.Downgraded, "piece", "pieces"), domain.FormatMoney(t.DowngradedNewMinor, currency))
	}
	if !t.ValueKnown {
		return fmt.Sprintf("no total: %s no price. Without them %s", countOf(t.WithoutPrice, "kept piece has", "kept pieces have"), words)
	}
	return words
}

// fixingWords says how many fixings come back and what they save; no part stands for the whole.
func (in Input) fixingWords(t salvage.Totals) string {
	words := fmt.Sprintf("%d come out, about %d fit to use again", t.FixingsCount, t.FixingsFit)
	if t.FixingsNoPrice > 0 {
		return words + fmt.Sprintf("; no total of their price new: %s no price", countOf(t.FixingsNoPrice, "type has", "types have"))
	}
	return words + ", " + domain.FormatMoney(t.FixingsMinor, in.Register.FitOut.Currency) + " new"
}

// foundWords says how far what is out has been looked at, and how it turned out.
func foundWords(t salvage.Totals) string {
	if t.Out == 0 {
		return ""
	}
	return fmt.Sprintf("%s out, %d looked at: %d as expected, %d worse, %d better. What was found counts over what was expected", countOf(t.Out, "piece is", "pieces are"), t.Found, t.Found-t.Worse-t.Better, t.Worse, t.Better)
}

// becauseOf says why a piece is what it is: as found, else as expected.
func becauseOf(p *salvage.Piece) []string {
	if p.Found == nil {
		return p.Because
	}
	return []string{join(fmt.Sprintf("found %s by %s on %s", p.Found.Condition, p.Found.By, p.Found.On), p.Found.Note)}
}

// whereWords says where a piece is.
func whereWords(p *salvage.Piece) string {
	return strings.ReplaceAll(cmp.Or(p.State, "in place"), "-", " ")
}

func (b *book) pieces(pieces []salvage.Piece) {
	currency, digits := b.in.Register.FitOut.Currency, domain.MinorDigits(b.in.Register.FitOut.Currency)
	t := b.newTable("Pieces", []column{{"Code", 12, strong}, {"Kind", 13, plain}, {"Material", 28, plain}, {"From", 9, plain}, {"Length (mm)", 9, whole}, {"Width (mm)", 9, whole}, {"Thick (mm)", 8, whole},
		{"Usable (mm)", 9, whole}, {"Holes", 7, whole}, {"Expected", 12, plain}, {"Because", 30, plain}, {"Goes to", 10, plain}, {"Mass (kg)", 9, tenths}, {"New (" + currency + ")", 11, money}, {"Worth (" + currency + ")", 11, money},
		{"Made (kg CO2e)", 11, tenths}, {"Stores (kg CO2)", 11, tenths}, {"Waste code", 11, plain}, {"Found", 12, toFill}, {"Where it is now", 15, toFill}, {"Good as found (mm)", 9, toFill}, {"Found: note, by whom, when", 28, toFill}}, a3, len(pieces))
	mass, asNew, value, made, stored := 0.0, int64(0), int64(0), 0.0, 0.0
	for i := range pieces {
		p := &pieces[i]
		price, embodied := any("no rate"), any("no factor")
		if p.NewKnown {
			price = b.major(p.NewMinor)
		}
		if p.EmbodiedKnown {
			embodied = p.EmbodiedKg
		}
		because := strings.Join(p.Because, "; ")
		if p.Provisional {
			because = join("provisional", because)
		}
		found := [3]any{"", nil, ""}
		if f := p.Found; f != nil {
			found = [3]any{string(f.Condition), f.UsableMm, join(f.Note, f.By, f.On)}
		}
		t.add(p.Code, strings.ReplaceAll(string(p.Kind), "-", " "), p.MaterialName, p.Assembly, p.LengthMm, p.WidthMm, p.ThicknessMm, p.UsableMm, p.Holes, string(p.Expected), because,
			string(p.Goes), p.MassKg, price, b.worth(t.row+1, digits, p), embodied, p.StoredKg, wasteWords(p), found[0], whereWords(p), found[1], found[2])
		mass, asNew, value, made, stored = mass+p.MassKg, asNew+p.NewMinor, value+p.ValueMinor, made+p.EmbodiedKg, stored+p.StoredKg
	}
	t.total("All", "A", sum{"M", mass, ""}, sum{"N", b.major(asNew), ""}, sum{"O", b.major(value), ""}, sum{"P", made, ""}, sum{"Q", stored, ""})
	t.end()
}

// worth is what a piece is worth of its price new: all of it, or the share for what is downgraded, as found where that is
// written in.
func (b *book) worth(row, digits int, p *salvage.Piece) any {
	if p.Provisional {
		return 0 // until somebody has seen it
	}
	value := any("")
	switch {
	case p.ValueKnown:
		value = b.major(p.ValueMinor)
	case p.NewKnown:
		value = "no share"
	}
	return formula{fmt.Sprintf(`IF(ISNUMBER(N%d),IF(IF(ISTEXT(S%d),S%d,J%d)="downgraded",IF(ISNUMBER(%s),ROUND(N%d*%s/100,%d),"no share"),N%d),"")`, row, row, row, row, shareCell, row, shareCell, digits, row), value}
}

// shareCell holds the one share.
const shareCell = "Share!$B$2"

// share writes the sheet that the worth of downgraded pieces hangs on: change the figure and they follow.
func (b *book) share(s salvage.Share) {
	t := b.newTable("Share", []column{{"Expected", 16, plain}, {"Percent of new", 12, fillShare}, {"Where it comes from", 70, plain}}, a4, 1)
	if s.Known {
		t.add(string(salvage.Downgraded), s.Percent, "the firm's own price list, "+domain.ShareDowngraded)
	} else {
		t.add(string(salvage.Downgraded), nil, "no share in the firm's price list ("+domain.ShareDowngraded+", in percent): enter one here")
	}
	t.end()
}

// leastWords says what is too small to keep, kind by kind.
func leastWords() string {
	var parts []string
	for _, k := range catalogue.Keepings() {
		size := fmt.Sprintf("%d long", k.LeastLengthMm)
		if k.LeastWidthMm > 0 {
			size = fmt.Sprintf("%d x %d", k.LeastLengthMm, k.LeastWidthMm)
		}
		parts = append(parts, k.Stuff+" "+size)
	}
	return "at least " + strings.Join(parts, ", ") + " (mm; common practice, no source). Smaller pieces count as material or waste. A length of timber or metal with over 30 screw holes a metre counts as downgraded."
}

func wasteWords(p *salvage.Piece) string {
	if p.ConditionalWaste {
		return "ask first"
	}
	return p.WasteCode
}

// byMaterial sums the pieces by material, from the pieces' own cells.
func (b *book) byMaterial(pieces []salvage.Piece) {
	currency := b.in.Register.FitOut.Currency
	last := max(len(pieces), 1) + 1
	col := func(letter string) string { return fmt.Sprintf("Pieces!$%s$2:$%s$%d", letter, letter, last) }
	type part struct {
		n     int
		kg    float64
		value int64
	}
	sums := map[string]part{}
	for _, p := range pieces {
		s := sums[p.MaterialName]
		sums[p.MaterialName] = part{s.n + 1, s.kg + p.MassKg, s.value + p.ValueMinor}
	}
	names := make([]string, 0, len(sums))
	for n := range sums {
		names = append(names, n)
	}
	slices.Sort(names)
	t := b.newTable("By material", []column{{"Material", 56, strong}, {"Pieces", 10, whole}, {"Mass (kg)", 12, tenths}, {"Worth (" + currency + ")", 14, money}}, a4, len(names))
	for _, name := range names {
		n, s := t.row+1, sums[name]
		t.add(name, formula{fmt.Sprintf("COUNTIF(%s,A%d)", col("C"), n), s.n}, formula{fmt.Sprintf("SUMIFS(%s,%s,A%d)", col("M"), col("C"), n), s.kg},
			formula{fmt.Sprintf("SUMIFS(%s,%s,A%d)", col("O"), col("C"), n), b.major(s.value)})
	}
	t.end()
}

func (b *book) fixingsBack(back []salvage.FixingsBack) {
	t := b.newTable("Fixings back", []column{{"Fixing", 44, strong}, {"Out loose", 10, whole}, {"Stay in frames and sets", 11, whole}, {"Fit again (share)", 11, thousand}, {"Fit again", 10, whole}, {"Those new (" + b.in.Register.FitOut.Currency + ")", 12, money}, {"Take care", 42, plain}, {"Source", 36, plain}}, a4, len(back))
	out, joined, fit := 0, 0, 0
	for _, f := range back {
		n := t.row + 1
		price := any("no price")
		if f.NewKnown {
			price = b.major(f.NewMinor)
		}
		t.add(f.Name, f.Count, f.Joined, f.Share, formula{fmt.Sprintf("INT(B%d*D%d+0.000001)", n, n), f.Fit}, price, f.Caution, join(f.Source, f.Confirmed))
		out, joined, fit = out+f.Count, joined+f.Joined, fit+f.Fit
	}
	t.total("All", "A", sum{"B", out, ""}, sum{"C", joined, ""}, sum{"E", fit, ""})
	t.end()
}

// waste is what is not kept by List of Waste code.
func (b *book) waste(lines []salvage.WasteLine) {
	t := b.newTable("Waste", []column{{"List of Waste code", 20, strong}, {"Description", 40, plain}, {"Pieces", 8, whole}, {"Mass (kg)", 10, tenths}, {"Usual route", 24, plain}, {"Take care", 56, plain}, {"Source", 40, plain}}, a4, len(lines))
	n, kg := 0, 0.0
	for _, l := range lines {
		t.add(l.Words(), l.Description, len(l.Pieces), l.MassKg, l.Route, strings.Join(l.Cautions, "; "), join(l.Source, l.Confirmed))
		n, kg = n+len(l.Pieces), kg+l.MassKg
	}
	t.total("All", "A", sum{"C", n, ""}, sum{"D", kg, ""})
	t.end()
}
