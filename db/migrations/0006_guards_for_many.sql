-- The same rules as before, looked up with less work where many rows are written at once. For few rows a guard finds
-- each in the index; for many it hashed everything that the fit-out has, also where 3,000 holes met 100,000 fixings. Now
-- each table is weighed by itself.

-- +goose Up

-- plan_beside is plan_for with a look at the table that n rows are held against: rows that are few beside those of the
-- table are found in its index. Its size, unlike its statistics, counts what this transaction has written; a row of a
-- register takes some 300 bytes, and finding one in the index as long as reading five.
-- +goose StatementBegin
create function plan_beside(n bigint, noun text) returns text language plpgsql as $$
begin
    return plan_for(case when n <= 2000 or n * 5 <= pg_relation_size(noun::regclass) / 300 then 0 else n end);
end $$;
-- +goose StatementEnd

-- guard_register: see 0002_guards.sql.
-- +goose StatementBegin
create or replace function guard_register() returns trigger language plpgsql
    set jit = off set enable_mergejoin = off set enable_nestloop = on set enable_hashjoin = on set enable_seqscan = off as $$
declare
    others text[] := array['zones', 'hosts', 'assemblies', 'elements', 'fixings', 'holes', 'relations'];
    s record;
    other text;
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
    if tg_op = 'INSERT' then
        others := array_remove(others, tg_table_name::text);
        if s.n <= 2000 then -- one statement for all tables
            select array[string_agg(format('select firm, fit_out, code from %I', noun), ' union all ')] into others from unnest(others) noun;
        end if;
        foreach other in array others loop
            execute format('select min(w.code) from written w where exists (select from %s n where %s and n.code = w.code)',
                case when s.n <= 2000 then '(' || other || ')' else quote_ident(other) end,
                case when s.n <= 2000 then plan_for(s.n) else plan_beside(s.n, other) end) into bad using s.firm, s.fit_out;
            if bad is not null then
                raise 'code % is taken', bad using errcode = 'unique_violation', constraint = 'one_code_one_thing', hint = bad;
            end if;
        end loop;
    end if;
    for i in 0 .. tg_nargs - 1 by 3 loop
        execute format('select min(w.code || '' names '' || w.%1$I) from written w where w.%1$I is not null and not exists (
            select from %2$I n where %3$s and n.code = w.%1$I)', tg_argv[i + 1], tg_argv[i + 2], plan_beside(s.n, tg_argv[i + 2]))
            into bad using s.firm, s.fit_out;
        if bad is not null then
            raise '%', bad using errcode = 'foreign_key_violation', constraint = tg_argv[i], hint = bad;
        end if;
    end loop;
    return null;
end $$;
-- +goose StatementEnd

-- guard_relation_to: a relation leads to an element; bears-on may lead to a host surface, hides to a fixing. Elements come
-- first, since nearly all do; what is left is few.
-- +goose StatementBegin
create or replace function guard_relation_to() returns trigger language plpgsql
    set jit = off set enable_mergejoin = off set enable_nestloop = on set enable_hashjoin = on set enable_seqscan = off as $$
declare
    s record;
    other record;
    bad text;
begin
    select count(*) as n, min(firm) as firm, min(fit_out) as fit_out into s from written;
    execute format('select array_agg(w.code) as codes, count(*) as n from written w where not exists (
        select from elements n where %s and n.code = w.to_code)', plan_beside(s.n, 'elements')) into other using s.firm, s.fit_out;
    if other.n = 0 then
        return null;
    end if;
    perform plan_for(0);
    execute 'select min(w.code || '' names '' || w.to_code) from written w where w.code = any ($3) and not exists (
        select from hosts n where w.kind = ''bears-on'' and n.firm = $1 and n.fit_out = $2 and n.code = w.to_code)
        and not exists (
        select from fixings n where w.kind = ''hides'' and n.firm = $1 and n.fit_out = $2 and n.code = w.to_code)'
        into bad using s.firm, s.fit_out, other.codes;
    if bad is not null then
        raise '%', bad using errcode = 'foreign_key_violation', constraint = 'relations_to_known', hint = bad;
    end if;
    return null;
end $$;
-- +goose StatementEnd

-- guard_hole_count: in one face of one surface a fixing has no more holes in use than it has fixings. Each fixing written
-- about is looked up by itself: what it takes grows with the holes written, not with those there.
-- +goose StatementBegin
create or replace function guard_hole_count() returns trigger language plpgsql set jit = off set enable_seqscan = off as $$
declare
    bad text;
begin
    select min(w.fixing) into bad from (select distinct firm, fit_out, fixing from written where fixing is not null) w
        where exists (
            select from holes h
            where h.firm = w.firm and h.fit_out = w.fit_out and h.fixing = w.fixing and h.state = 'in-use'
            group by h.host, h.face
            having sum(h.count) > (
                select f.count from fixings f where f.firm = w.firm and f.fit_out = w.fit_out and f.code = w.fixing));
    if bad is not null then
        raise 'holes of % counted twice', bad using errcode = 'check_violation', constraint = 'holes_counted_once', hint = bad;
    end if;
    return null;
end $$;
-- +goose StatementEnd
