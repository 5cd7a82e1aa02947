package db

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/jackc/pgx/v5"

	"unpick/domain"
)

// Change is the one door to a register. It locks the fit-out, loads the register, asks f what to change, stores the
// answer and appends one entry to the log: all of it or nothing. What it returns carries the versions as stored.
//
// Records to add get version 1; nothing makes two appends conflict but the same code. Records to put carry the version
// at which the person read them, and are refused as stale if the register is further. A change of nothing at all is
// stored and logged as nothing. f must be pure: it may be asked again for the same request.
func (d *DB) Change(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, who domain.Actor,
	f func(*domain.Register) (domain.Change, error)) (domain.Change, domain.LogEntry, error) {
	var (
		change domain.Change
		entry  domain.LogEntry
		s      = scope{firm, fitOut}
	)
	err := d.inTx(ctx, func(ctx context.Context, w *work) error {
		r, head, err := d.hold(ctx, w.tx, s)
		if err != nil {
			return err
		}
		if change, err = f(r); err != nil {
			return err
		}
		if isNothing(change) {
			entry = head.LogEntry
			return nil
		}
		change.Add, change.Put = fresh(change.Add), owned(change.Put)
		change.Put.Holes, change.Add.Holes = domain.Renumbered(r.Holes, change.Put.Holes, change.Add.Holes)
		if err = current(r, change); err != nil {
			return err
		}
		if err = check(r, after(r, change)); err != nil {
			return err
		}
		if err = domain.Later(r, change, head.now.Format(time.DateOnly)).OrNil(); err != nil {
			return err
		}
		if err = d.photosKept(ctx, s, r, change); err != nil {
			return err
		}
		change.Was = r.FirstForms(change.Put)
		if err = store(ctx, w.tx, s, head.Number+1, &change); err != nil {
			return err
		}
		if entry, err = appendLog(ctx, w.tx, s, head, who, change.Kind, change.What, change); err != nil {
			return err
		}
		w.committed = append(w.committed, func() { d.snapshots.keep(s, entry.Hash, after(r, change)) })
		return nil
	})
	if err != nil {
		return domain.Change{}, domain.LogEntry{}, err
	}
	return change, entry, nil
}

// head is the newest entry of a log (number and hash only) and the time by the server's clock.
type head struct {
	domain.LogEntry
	now time.Time
}

// hold locks a fit-out until the transaction ends and answers its register and the head of its log as they then are. The
// lock is a statement of its own: those behind it see what the writer before has committed.
func (d *DB) hold(ctx context.Context, tx pgx.Tx, s scope) (*domain.Register, head, error) {
	const lock = `select from fit_outs where firm = @firm and fit_out = @fit_out for no key update`
	var h head
	b := &pgx.Batch{}
	b.Queue(lock, s.args())
	queueHead(b, s, &h)
	if err := tx.SendBatch(ctx, b).Close(); err != nil {
		return nil, h, fmt.Errorf("locking fit-out %d to change it: %w", s.fitOut, err)
	}
	r := d.snapshots.at(s, h.Hash)
	if r == nil {
		b = &pgx.Batch{}
		r = queueRegister(b, s)
		if err := tx.SendBatch(ctx, b).Close(); err != nil {
			return nil, h, fmt.Errorf("loading the register of fit-out %d to change it: %w", s.fitOut, err)
		}
	}
	r.Catalogue = d.catalogue.WithRates(r.FitOut.Crew.Rates)
	return r, h, nil
}

// check refuses a change that breaks a rule of the register, with every fault it brings. Faults that the register had
// before (a rule may be younger than a record) do not stop a change that leaves them.
func check(before, after *domain.Register) error {
	faults := domain.Check(after)
	if len(faults) > 0 {
		faults = faults.Beyond(domain.Check(before))
	}
	return append(faults, domain.CheckConsents(before, after)...).OrNil()
}

// store writes a change whose fit-out is held, what is referred to before what refers to it.
func store(ctx context.Context, tx pgx.Tx, s scope, entry int64, c *domain.Change) error {
	if len(c.Put.Prices) > 0 {
		return domain.Errorf(domain.Refused, "a price is not changed: add the new one with its date")
	}
	if len(c.Put.SignOffs) > 0 {
		return domain.Errorf(domain.Refused, "what was signed is not changed: withdraw it by a new sign-off")
	}
	if c.FitOut != nil {
		if err := updateFitOut(ctx, tx, s, c.FitOut); err != nil {
			return err
		}
	}
	if err := addAll(ctx, tx, s, entry, c.Add); err != nil {
		return err
	}
	for _, replace := range []func() error{
		func() error { return zones.replace(ctx, tx, s, entry, c.Put.Zones) },
		func() error { return hosts.replace(ctx, tx, s, entry, c.Put.Hosts) },
		func() error { return assemblies.replace(ctx, tx, s, entry, c.Put.Assemblies) },
		func() error { return elements.replace(ctx, tx, s, entry, c.Put.Elements) },
		func() error { return fixings.replace(ctx, tx, s, entry, c.Put.Fixings) },
		func() error { return holes.replace(ctx, tx, s, entry, c.Put.Holes) },
		func() error { return relations.replace(ctx, tx, s, entry, c.Put.Relations) },
	} {
		if err := replace(); err != nil {
			return err
		}
	}
	return nil
}

func addAll(ctx context.Context, tx pgx.Tx, s scope, entry int64, more domain.Records) error {
	for _, add := range []func() error{
		func() error { return zones.add(ctx, tx, s, entry, more.Zones) },
		func() error { return hosts.add(ctx, tx, s, entry, more.Hosts) },
		func() error { return assemblies.add(ctx, tx, s, entry, more.Assemblies) },
		func() error { return elements.add(ctx, tx, s, entry, more.Elements) },
		func() error { return fixings.add(ctx, tx, s, entry, more.Fixings) },
		func() error { return holes.add(ctx, tx, s, entry, more.Holes) },
		func() error { return relations.add(ctx, tx, s, entry, more.Relations) },
		func() error { return addPrices(ctx, tx, s, entry, more.Prices) },
		func() error { return addSignOffs(ctx, tx, s, entry, more.SignOffs) },
	} {
		if err := add(); err != nil {
			return err
		}
	}
	return nil
}

// isNothing reports whether a change neither adds nor puts anything.
func isNothing(c domain.Change) bool {
	return c.FitOut == nil && count(c.Add) == 0 && count(c.Put) == 0
}

func count(r domain.Records) int {
	return len(r.Zones) + len(r.Hosts) + len(r.Assemblies) + len(r.Elements) + len(r.Fixings) + len(r.Holes) +
		len(r.Relations) + len(r.Prices) + len(r.SignOffs)
}

// owned is r in slices of its own, so that versions can be counted up in it without touching a register.
func owned(r domain.Records) domain.Records {
	return domain.Records{
		Zones: slices.Clone(r.Zones), Hosts: slices.Clone(r.Hosts), Assemblies: slices.Clone(r.Assemblies),
		Elements: slices.Clone(r.Elements), Fixings: slices.Clone(r.Fixings), Holes: slices.Clone(r.Holes),
		Relations: slices.Clone(r.Relations), Prices: slices.Clone(r.Prices), SignOffs: slices.Clone(r.SignOffs),
	}
}

// fresh is r in slices of its own with every record at version 1 and in order of code.
func fresh(r domain.Records) domain.Records {
	return domain.Records{
		Zones: zones.fresh(r.Zones), Hosts: hosts.fresh(r.Hosts), Assemblies: assemblies.fresh(r.Assemblies),
		Elements: elements.fresh(r.Elements), Fixings: fixings.fresh(r.Fixings), Holes: holes.fresh(r.Holes),
		Relations: relations.fresh(r.Relations), Prices: slices.Clone(r.Prices), SignOffs: slices.Clone(r.SignOffs),
	}
}

// staleErrorf says that somebody was faster.
func staleErrorf(what string, now, was int) error {
	return domain.Errorf(domain.Stale, "%s is at version %d, not %d: somebody changed it; read it again and repeat the change", what, now, was)
}
