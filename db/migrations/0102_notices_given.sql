-- That a notice of the tenancy was given: which, how, and the day on which it says that the tenancy ends. It is a sign-off like
-- any other: signed_on is the day on which it was served.

-- +goose Up

alter table sign_offs
    add column notice text not null default '',
    add column how    text not null default '',
    add column ends   date,
    add constraint sign_offs_notice_known check (notice in ('', 'break', 'leaving')
        and ((notice <> '') = (kind = 'notice-given' and withdraws is null))
        and ((notice <> '') = (ends is not null)) and ((notice <> '') = (how <> '')));

-- One kind more than there are, whichever those are.
-- +goose StatementBegin
do $$
declare
    kinds text;
begin
    select string_agg(quote_literal(k), ', ' order by k) into kinds from (
        select (regexp_matches(pg_get_constraintdef(oid), '''([a-z-]+)''', 'g'))[1] as k from pg_constraint
            where conname = 'sign_offs_kind_known' and conrelid = 'sign_offs'::regclass
        union select 'notice-given') all_kinds;
    alter table sign_offs drop constraint sign_offs_kind_known;
    execute 'alter table sign_offs add constraint sign_offs_kind_known check (kind in (' || kinds || '))';
end $$;
-- +goose StatementEnd
