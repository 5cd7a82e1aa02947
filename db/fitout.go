package db

import (
	"context"
	"encoding/json"
	"fmt"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype/zeronull"

	"unpick/domain"
)

const (
	fitOutColumns = `
		code, name, address, built_year, asbestos_survey, tenant, landlord, contractor, currency, region, working_days,
		starts_at, day_minutes, people, access, tenancy_start, break_date, break_vacant, expiry, notice_months, licence,
		licence_date, clause, standard, leave_by_consent, exits, breaks, days_off, contingency_days, terms, not_built, link_base,
		licence_items, licence_conditions, own_rates`
	fitOutValues = `
		@code, @name, @address, @built_year, @asbestos_survey, @tenant, @landlord, @contractor, @currency, @region,
		@working_days, @starts_at, @day_minutes, @people, @access, @tenancy_start::text::date, @break_date::text::date, @break_vacant, @expiry::text::date,
		@notice_months, @licence, @licence_date::text::date, @clause, @standard, @leave_by_consent, @exits, @breaks, @days_off, @contingency_days, @terms, @not_built, @link_base,
		@licence_items, @licence_conditions, @own_rates`
	fitOutRead = `
		select fit_out, code, name, address, built_year, asbestos_survey, tenant, landlord, contractor, currency, region,
			working_days, starts_at, day_minutes, people, access, to_char(tenancy_start, 'YYYY-MM-DD'),
			to_char(break_date, 'YYYY-MM-DD'), break_vacant, to_char(expiry, 'YYYY-MM-DD'), notice_months, licence,
			to_char(licence_date, 'YYYY-MM-DD'), clause, standard, leave_by_consent, exits, breaks, days_off, contingency_days, coalesce(terms, '{}'), not_built, link_base,
			licence_items, licence_conditions, coalesce(own_rates, '[]'), version, uid::text
		from fit_outs where firm = @firm`
)

func fitOutArgs(firm domain.FirmID, f domain.FitOut) pgx.StrictNamedArgs {
	t := f.Tenancy
	return pgx.StrictNamedArgs{
		"firm": firm, "code": f.Code, "name": f.Name, "address": f.Premises.Address, "built_year": f.Premises.BuiltYear,
		"asbestos_survey": f.Premises.Survey, "tenant": f.Tenant, "landlord": f.Landlord, "contractor": f.Firm,
		"currency": f.Currency, "region": f.Calendar.Region, "working_days": f.Calendar.WorkingDays,
		"starts_at": f.Calendar.StartsAt, "day_minutes": f.Calendar.DayMinutes, "people": f.Crew.People,
		"access": f.Crew.Access, "tenancy_start": zeronull.Text(t.Start), "break_date": zeronull.Text(t.BreakDate),
		"break_vacant": t.BreakVacant, "expiry": zeronull.Text(t.Expiry), "notice_months": t.NoticeMonths,
		"licence": t.Licence, "licence_date": zeronull.Text(t.LicenceDate), "clause": t.Clause, "standard": t.Standard,
		"leave_by_consent": t.LeaveByConsent, "exits": f.Exits, "breaks": f.Calendar.Breaks, "days_off": f.Calendar.DaysOff, "contingency_days": t.ContingencyDays,
		"terms": f.Terms, "not_built": f.NotBuilt, "link_base": f.LinkBase,
		"licence_items": t.Items, "licence_conditions": t.Conditions, "own_rates": f.Crew.Rates,
	}
}

func readFitOut(row pgx.CollectableRow) (domain.FitOut, error) {
	var f domain.FitOut
	t := &f.Tenancy
	err := row.Scan(&f.ID, &f.Code, &f.Name, &f.Premises.Address, &f.Premises.BuiltYear, &f.Premises.Survey, &f.Tenant,
		&f.Landlord, &f.Firm, &f.Currency, &f.Calendar.Region, &f.Calendar.WorkingDays, &f.Calendar.StartsAt,
		&f.Calendar.DayMinutes, &f.Crew.People, &f.Crew.Access, (*zeronull.Text)(&t.Start), (*zeronull.Text)(&t.BreakDate),
		&t.BreakVacant, (*zeronull.Text)(&t.Expiry), &t.NoticeMonths, &t.Licence, (*zeronull.Text)(&t.LicenceDate),
		&t.Clause, &t.Standard, &t.LeaveByConsent, &f.Exits, &f.Calendar.Breaks, &f.Calendar.DaysOff, &t.ContingencyDays, &f.Terms, &f.NotBuilt, &f.LinkBase, &t.Items, &t.Conditions, &f.Crew.Rates, &f.Version, &f.UID)
	return f, err
}

// FitOuts are at most limit fit-outs of a firm after a code, in order of code; "" starts at the first.
func (d *DB) FitOuts(ctx context.Context, firm domain.FirmID, after string, limit int) ([]domain.FitOut, error) {
	const q = fitOutRead + ` and code > @after order by code limit @limit`
	rows, _ := d.reader(ctx).Query(ctx, q, pgx.StrictNamedArgs{"firm": firm, "after": after, "limit": limit}) // error: next line
	page, err := pgx.CollectRows(rows, readFitOut)
	if err != nil {
		return nil, fmt.Errorf("listing fit-outs: %w", err)
	}
	return page, nil
}

// FitOutByCode is the fit-out of a firm with a code, or NotFound.
func (d *DB) FitOutByCode(ctx context.Context, firm domain.FirmID, code string) (domain.FitOut, error) {
	const q = fitOutRead + ` and code = @code`
	rows, _ := d.reader(ctx).Query(ctx, q, pgx.StrictNamedArgs{"firm": firm, "code": code}) // error: next line
	f, ok, err := one(rows, readFitOut)
	switch {
	case err != nil:
		return f, fmt.Errorf("loading fit-out %s: %w", code, err)
	case !ok:
		return f, domain.Errorf(domain.NotFound, "there is no fit-out %q", code)
	}
	return f, nil
}

// CreateFitOut opens a fit-out at version 1 and its log with it. Its code never changes.
func (d *DB) CreateFitOut(ctx context.Context, firm domain.FirmID, who domain.Actor, f domain.FitOut) (domain.FitOut, error) {
	err := d.inTx(ctx, func(ctx context.Context, w *work) (err error) {
		if f, err = insertFitOut(ctx, w.tx, firm, f); err != nil {
			return err
		}
		change := domain.Change{Kind: domain.Append, What: "fit-out " + f.Code + " opened", FitOut: &f}
		_, err = openLog(ctx, w.tx, scope{firm, f.ID}, who, change.What, change)
		return err
	})
	return f, err
}

func insertFitOut(ctx context.Context, tx pgx.Tx, firm domain.FirmID, f domain.FitOut) (domain.FitOut, error) {
	const q = `insert into fit_outs (firm,` + fitOutColumns + `) values (@firm,` + fitOutValues + `) returning fit_out, uid::text`
	if err := tx.QueryRow(ctx, q, fitOutArgs(firm, f)).Scan(&f.ID, &f.UID); err != nil {
		return f, fmt.Errorf("creating fit-out %s: %w", f.Code, err)
	}
	f.Version = 1
	return f, nil
}

// AmendFitOut puts the whole of f, terms and all, in place of the fit-out if that is still at the version f carries.
func (d *DB) AmendFitOut(ctx context.Context, firm domain.FirmID, id domain.FitOutID, who domain.Actor, f domain.FitOut) (domain.FitOut, error) {
	done, _, err := d.Change(ctx, firm, id, who, func(*domain.Register) (domain.Change, error) {
		return domain.Change{Kind: domain.Amend, What: "terms of fit-out " + f.Code + " amended", FitOut: &f}, nil
	})
	if err != nil {
		return f, err
	}
	return *done.FitOut, nil
}

// updateFitOut stores the amended terms of a fit-out that is held, and counts their version up.
func updateFitOut(ctx context.Context, tx pgx.Tx, s scope, f *domain.FitOut) error {
	const q = `
		update fit_outs set (version,` + fitOutColumns + `) = (version + 1,` + fitOutValues + `)
		where firm = @firm and fit_out = @fit_out and version = @was
		returning uid::text`
	args := fitOutArgs(s.firm, *f)
	args["fit_out"], args["was"] = s.fitOut, f.Version
	rows, _ := tx.Query(ctx, q, args) // error: next line
	uid, ok, err := one(rows, pgx.RowTo[string])
	switch {
	case err != nil:
		return fmt.Errorf("amending fit-out %s: %w", f.Code, err)
	case !ok: // the version was held against the register under the same lock
		return fmt.Errorf("amending fit-out %s: it is not at version %d", f.Code, f.Version)
	}
	f.UID = uid
	f.ID = s.fitOut
	f.Version++
	return nil
}

// FitOutAt is a fit-out with the terms that it had at an entry of its log.
func (d *DB) FitOutAt(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, entry int64) (domain.FitOut, error) {
	const q = `
		select change -> 'fit_out' from log
		where firm = @firm and fit_out = @fit_out and entry <= @entry and change -> 'fit_out' is not null order by entry desc limit 1`
	var f domain.FitOut
	rows, _ := d.reader(ctx).Query(ctx, q, scope{firm, fitOut}.with("entry", entry)) // error: next line
	text, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[json.RawMessage])
	if err == nil {
		err = json.Unmarshal(text, &f)
	}
	if err != nil {
		return f, fmt.Errorf("reading the terms of fit-out %d at entry %d of its log: %w", fitOut, entry, err)
	}
	return f, nil
}
