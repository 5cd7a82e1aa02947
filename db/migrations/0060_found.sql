-- What pieces were found fit for once they were out, and which entry of the List of Waste was settled on where two could
-- be. Both are sign-offs: they only grow.

-- +goose Up

alter table sign_offs
    add column found      text not null default '',
    add column usable_mm  int  not null default 0,
    add column waste_code text not null default '',
    add constraint sign_offs_found_known check (found in ('', 'whole', 'cut', 'downgraded', 'recycle', 'waste')
        and ((found <> '') = (kind = 'found' and withdraws is null))),
    add constraint sign_offs_usable_fits check (usable_mm between 0 and 100000),
    add constraint sign_offs_waste_assessed check ((waste_code <> '') = (kind = 'waste-assessed' and withdraws is null));

-- Two kinds more than there are, whichever those are.
-- +goose StatementBegin
do $$
declare
    kinds text;
begin
    select string_agg(quote_literal(k), ', ' order by k) into kinds from (
        select (regexp_matches(pg_get_constraintdef(oid), '''([a-z-]+)''', 'g'))[1] as k from pg_constraint
            where conname = 'sign_offs_kind_known' and conrelid = 'sign_offs'::regclass
        union select 'found' union select 'waste-assessed') all_kinds;
    alter table sign_offs drop constraint sign_offs_kind_known;
    execute 'alter table sign_offs add constraint sign_offs_kind_known check (kind in (' || kinds || '))';
end $$;
-- +goose StatementEnd
