-- The rules that one row cannot tell: one code names one thing, what is referred to exists, a hole face is counted
-- once, nothing logged is deleted, the log is a chain that only grows.

-- +goose Up

-- plan_for sets how the statements of a guard are planned, until that guard ends, and answers how they are to say "in
-- the same fit-out" of a row n found for a row w written. Rows that have just been written are in no statistics, so the
-- planner would guess, and its worst guess is quadratic: for a few rows look each up by its whole key in the index, for
-- many hash what the fit-out ($1, $2) has, and never read what other fit-outs have. Every guard that calls it declares
-- these settings, which puts them back.
-- +goose StatementBegin
create function plan_for(n bigint) returns text language plpgsql as $$
begin
    perform set_config('enable_nestloop', case when n <= 2000 then 'on' else 'off' end, true),
        set_config('enable_hashjoin', case when n <= 2000 then 'off' else 'on' end, true);
    return case when n <= 2000 then 'n.firm = w.firm and n.fit_out = w.fit_out' else 'n.firm = $1 and n.fit_out = $2' end;
end $$;
-- +goose StatementEnd

-- guard_register runs after each insert or update of a noun's table. It locks the fit-out (one writer at a time is what
-- makes these rules hold between transactions), then looks for a code that names two things and for references that
-- lead nowhere. Its arguments come in threes: constraint name, column, table referred to.
-- +goose StatementBegin
create function guard_register() returns trigger language plpgsql
    set jit = off set enable_mergejoin = off set enable_nestloop = on set enable_hashjoin = on set enable_seqscan = off as $$
declare
    nouns constant text[] := array['zones', 'hosts', 'assemblies', 'elements', 'fixings', 'holes', 'relations'];
    s record;
    others text;
    same text;
    bad text;
begin
    select count(*) as n, min(firm) as firm, min(fit_out) as fit_out,
        (min(firm), min(fit_out)) = (max(firm), max(fit_out)) as is_one into s from written;
    if s.n = 0 then
        return null;
    end if;
    if not s.is_one then
        raise 'one statement writes to one fit-out' using errcode = 'restrict_violation', constraint = 'one_fit_out_a_statement';
    end if;
    perform from fit_outs where firm = s.firm and fit_out = s.fit_out for no key update;
    if not found then
        raise 'no such fit-out' using errcode = 'foreign_key_violation', constraint = 'fit_out_known';
    end if;
    same := plan_for(s.n);
    if tg_op = 'INSERT' then
        select string_agg(format('select firm, fit_out, code from %I', noun), ' union all ') into others
            from unnest(nouns) noun where noun <> tg_table_name;
        execute format('select min(w.code) from written w where exists (
            select from (%s) n where %s and n.code = w.code)', others, same) into bad using s.firm, s.fit_out;
        if bad is not null then
            raise 'code % is taken', bad using errcode = 'unique_violation', constraint = 'one_code_one_thing', hint = bad;
        end if;
    end if;
    for i in 0 .. tg_nargs - 1 by 3 loop
        execute format('select min(w.code || '' names '' || w.%1$I) from written w where w.%1$I is not null and not exists (
            select from %2$I n where %3$s and n.code = w.%1$I)', tg_argv[i + 1], tg_argv[i + 2], same) into bad using s.firm, s.fit_out;
        if bad is not null then
            raise '%', bad using errcode = 'foreign_key_violation', constraint = tg_argv[i], hint = bad;
        end if;
    end loop;
    return null;
end $$;
-- +goose StatementEnd

create trigger zones_guard_insert after insert on zones referencing new table as written
    for each statement execute function guard_register();
create trigger zones_guard_update after update on zones referencing new table as written
    for each statement execute function guard_register();
create trigger hosts_guard_insert after insert on hosts referencing new table as written
    for each statement execute function guard_register('hosts_zone_known', 'zone', 'zones');
create trigger hosts_guard_update after update on hosts referencing new table as written
    for each statement execute function guard_register('hosts_zone_known', 'zone', 'zones');
create trigger assemblies_guard_insert after insert on assemblies referencing new table as written
    for each statement execute function guard_register('assemblies_zone_known', 'zone', 'zones');
create trigger assemblies_guard_update after update on assemblies referencing new table as written
    for each statement execute function guard_register('assemblies_zone_known', 'zone', 'zones');
create trigger elements_guard_insert after insert on elements referencing new table as written
    for each statement execute function guard_register(
        'elements_assembly_known', 'assembly', 'assemblies', 'elements_zone_known', 'zone', 'zones');
create trigger elements_guard_update after update on elements referencing new table as written
    for each statement execute function guard_register(
        'elements_assembly_known', 'assembly', 'assemblies', 'elements_zone_known', 'zone', 'zones');
create trigger fixings_guard_insert after insert on fixings referencing new table as written
    for each statement execute function guard_register(
        'fixings_holds_known', 'holds', 'elements', 'fixings_into_element_known', 'into_element', 'elements',
        'fixings_into_host_known', 'into_host', 'hosts', 'fixings_assembly_known', 'assembly', 'assemblies');
create trigger fixings_guard_update after update on fixings referencing new table as written
    for each statement execute function guard_register(
        'fixings_holds_known', 'holds', 'elements', 'fixings_into_element_known', 'into_element', 'elements',
        'fixings_into_host_known', 'into_host', 'hosts', 'fixings_assembly_known', 'assembly', 'assemblies');
create trigger holes_guard_insert after insert on holes referencing new table as written
    for each statement execute function guard_register(
        'holes_host_known', 'host', 'hosts', 'holes_fixing_known', 'fixing', 'fixings',
        'holes_assembly_known', 'assembly', 'assemblies');
create trigger holes_guard_update after update on holes referencing new table as written
    for each statement execute function guard_register(
        'holes_host_known', 'host', 'hosts', 'holes_fixing_known', 'fixing', 'fixings',
        'holes_assembly_known', 'assembly', 'assemblies');
create trigger relations_guard_insert after insert on relations referencing new table as written
    for each statement execute function guard_register(
        'relations_from_known', 'from_code', 'elements', 'relations_assembly_known', 'assembly', 'assemblies');
create trigger relations_guard_update after update on relations referencing new table as written
    for each statement execute function guard_register(
        'relations_from_known', 'from_code', 'elements', 'relations_assembly_known', 'assembly', 'assemblies');

-- guard_through: every element that a fixing passes through exists.
-- +goose StatementBegin
create function guard_through() returns trigger language plpgsql
    set jit = off set enable_mergejoin = off set enable_nestloop = on set enable_hashjoin = on set enable_seqscan = off as $$
declare
    s record;
    bad text;
begin
    select count(*) as n, min(firm) as firm, min(fit_out) as fit_out into s from written;
    execute format('select min(w.code || '' names '' || w.through) from (
            select firm, fit_out, code, unnest(through) as through from written where through is not null) w
        where not exists (select from elements n where %s and n.code = w.through)', plan_for(s.n))
        into bad using s.firm, s.fit_out;
    if bad is not null then
        raise '%', bad using errcode = 'foreign_key_violation', constraint = 'fixings_through_known', hint = bad;
    end if;
    return null;
end $$;
-- +goose StatementEnd

create trigger fixings_through_insert after insert on fixings referencing new table as written
    for each statement execute function guard_through();
create trigger fixings_through_update after update on fixings referencing new table as written
    for each statement execute function guard_through();

-- guard_relation_to: a relation leads to an element; bears-on may lead to a host surface, hides to a fixing.
-- +goose StatementBegin
create function guard_relation_to() returns trigger language plpgsql
    set jit = off set enable_mergejoin = off set enable_nestloop = on set enable_hashjoin = on set enable_seqscan = off as $$
declare
    s record;
    bad text;
begin
    select count(*) as n, min(firm) as firm, min(fit_out) as fit_out into s from written;
    execute format('select min(w.code || '' names '' || w.to_code) from written w where not exists (
        select from (
            select firm, fit_out, code, null as kind from elements
            union all select firm, fit_out, code, ''bears-on'' from hosts
            union all select firm, fit_out, code, ''hides'' from fixings) n
        where %s and n.code = w.to_code and coalesce(n.kind, w.kind) = w.kind)', plan_for(s.n))
        into bad using s.firm, s.fit_out;
    if bad is not null then
        raise '%', bad using errcode = 'foreign_key_violation', constraint = 'relations_to_known', hint = bad;
    end if;
    return null;
end $$;
-- +goose StatementEnd

create trigger relations_to_insert after insert on relations referencing new table as written
    for each statement execute function guard_relation_to();
create trigger relations_to_update after update on relations referencing new table as written
    for each statement execute function guard_relation_to();

-- guard_hole_count: in one face of one surface a fixing has no more holes in use than it has fixings.
-- +goose StatementBegin
create function guard_hole_count() returns trigger language plpgsql
    set jit = off set enable_mergejoin = off set enable_nestloop = on set enable_hashjoin = on set enable_seqscan = off as $$
declare
    s record;
    bad text;
begin
    select count(*) as n, min(firm) as firm, min(fit_out) as fit_out into s from written;
    perform plan_for(s.n);
    execute 'select min(code) from (
        select f.code from (select distinct fixing from written) w
        join fixings f on f.firm = $1 and f.fit_out = $2 and f.code = w.fixing
        join holes h on h.firm = $1 and h.fit_out = $2 and h.fixing = w.fixing
        where h.state = ''in-use''
        group by f.code, f.count, h.host, h.face having sum(h.count) > f.count) many' into bad using s.firm, s.fit_out;
    if bad is not null then
        raise 'holes of % counted twice', bad using errcode = 'check_violation', constraint = 'holes_counted_once', hint = bad;
    end if;
    return null;
end $$;
-- +goose StatementEnd

create trigger holes_count_insert after insert on holes referencing new table as written
    for each statement execute function guard_hole_count();
create trigger holes_count_update after update on holes referencing new table as written
    for each statement execute function guard_hole_count();

-- never_deleted refuses to delete or truncate.
-- +goose StatementBegin
create function never_deleted() returns trigger language plpgsql set jit = off as $$
begin
    raise 'what was logged is never deleted' using errcode = 'restrict_violation', constraint = 'never_deleted', table = tg_table_name;
end $$;
-- +goose StatementEnd

-- same_record refuses to give a record another code or place, and counts its version up by one.
-- +goose StatementBegin
create function same_record() returns trigger language plpgsql set jit = off as $$
begin
    if (new.firm, new.fit_out, new.code) is distinct from (old.firm, old.fit_out, old.code) then
        raise 'a code never changes' using errcode = 'restrict_violation', constraint = 'code_never_changes', hint = old.code;
    end if;
    if new.version <> old.version + 1 then
        raise 'a version rises by one' using errcode = 'restrict_violation', constraint = 'version_rises', hint = old.code;
    end if;
    return new;
end $$;
-- +goose StatementEnd

-- +goose StatementBegin
do $$
declare
    noun text;
begin
    foreach noun in array array['fit_outs', 'zones', 'hosts', 'assemblies', 'elements', 'fixings', 'holes', 'relations', 'prices', 'log'] loop
        execute format('create trigger %I before delete on %I for each statement execute function never_deleted()', noun || '_never_deleted', noun);
        execute format('create trigger %I before truncate on %I for each statement execute function never_deleted()', noun || '_never_emptied', noun);
    end loop;
    foreach noun in array array['fit_outs', 'zones', 'hosts', 'assemblies', 'elements', 'fixings', 'holes', 'relations'] loop
        execute format('create trigger %I before update on %I for each row execute function same_record()', noun || '_same_record', noun);
    end loop;
end $$;
-- +goose StatementEnd

-- never_changed refuses to update what only grows.
-- +goose StatementBegin
create function never_changed() returns trigger language plpgsql set jit = off as $$
begin
    raise 'what was logged is never changed' using errcode = 'restrict_violation', constraint = 'never_changed', table = tg_table_name;
end $$;
-- +goose StatementEnd

create trigger log_never_changed before update on log for each statement execute function never_changed();
create trigger prices_never_changed before update on prices for each statement execute function never_changed();

-- chain_log refuses an entry that does not follow the newest one.
-- +goose StatementBegin
create function chain_log() returns trigger language plpgsql set jit = off as $$
declare
    head record;
begin
    perform from fit_outs where firm = new.firm and fit_out = new.fit_out for no key update;
    select entry, hash into head from log where firm = new.firm and fit_out = new.fit_out order by entry desc limit 1;
    if new.entry <> coalesce(head.entry, 0) + 1 or new.previous <> coalesce(head.hash, decode(repeat('00', 32), 'hex')) then
        raise 'an entry follows the newest one' using errcode = 'restrict_violation', constraint = 'log_is_a_chain';
    end if;
    return new;
end $$;
-- +goose StatementEnd

create trigger log_chained before insert on log for each row execute function chain_log();
