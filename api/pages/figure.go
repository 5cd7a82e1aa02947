package pages

import (
	"strings"

	"unpick/domain"
)

// mostFigure is as far as any figure of a form goes: a kilometre in millimetres.
const mostFigure = 1_000_000

// decimals lets a field's figure have decimals: a mass, a diameter, an angle.
func (f field) decimals() field { f.Decimals = domain.AnyDecimals; return f }

// below lets a field's figure go below 0: a level, a way back.
func (f field) below() field { f.Least, f.Most = -mostFigure, mostFigure; return f }

// from holds a field's figure to a range.
func (f field) from(least, most int) field {
	f.Least, f.Most = int64(least), int64(most)
	return f
}

// figures is what a field for a figure takes. One coordinate of a place or a direction may lie below 0; all else starts at 0
// where nothing is said.
func (f field) figures() domain.Figures {
	want := domain.Figures{Decimals: f.Decimals, Least: f.Least, Most: f.Most, Unit: f.Unit}
	if want.Least == 0 && want.Most == 0 {
		want.Most = mostFigure
		if at := f.Name[strings.LastIndexByte(f.Name, '/')+1:]; at == "x" || at == "y" || at == "z" {
			want.Least = -mostFigure
		}
	}
	return want
}

// InputMode is the keypad that a phone shows for the field; "" for the whole keyboard, because a keypad of digits may have no
// minus.
func (f field) InputMode() string {
	switch want := f.figures(); {
	case f.Kind == cash && domain.MinorDigits(f.Unit) > 0:
		return "decimal"
	case f.Kind == cash:
		return "numeric"
	case f.Kind != number || want.Least < 0:
		return ""
	case want.Decimals > 0:
		return "decimal"
	}
	return "numeric"
}

// whole is the whole figure in a field of the form, 0 where it is empty.
func (f *form) whole(name string) (int, error) {
	field := f.nearest(name)
	if field == nil || strings.TrimSpace(field.Value) == "" {
		return 0, nil
	}
	n, err := domain.ReadWhole(field.Value, field.figures())
	if err != nil {
		return 0, domain.FieldErrorf(domain.Invalid, name, "%v", err)
	}
	return n, nil
}
