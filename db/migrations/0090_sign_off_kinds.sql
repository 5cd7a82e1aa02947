-- Two kinds of sign-off more than there are, whichever those are: what the parties say of a hole on a walk-round. The number
-- is that high because migrations of about the same time each name the kinds that they knew.

-- +goose Up

-- +goose StatementBegin
do $$
declare
    kinds text;
begin
    select string_agg(quote_literal(k), ', ' order by k) into kinds from (
        select (regexp_matches(pg_get_constraintdef(oid), '''([a-z-]+)''', 'g'))[1] as k from pg_constraint
            where conname = 'sign_offs_kind_known' and conrelid = 'sign_offs'::regclass
        union select 'hole-agreed' union select 'hole-disputed') all_kinds;
    alter table sign_offs drop constraint sign_offs_kind_known;
    execute 'alter table sign_offs add constraint sign_offs_kind_known check (kind in (' || kinds || '))';
end $$;
-- +goose StatementEnd
