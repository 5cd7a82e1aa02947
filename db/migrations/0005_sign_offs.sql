-- What was signed on site. It only grows, as the log does: one that no longer holds is withdrawn by a later one.

-- +goose Up

create table sign_offs (
    firm            bigint not null,
    fit_out         bigint not null,
    place           bigint generated always as identity, -- keeps the order in which they were given
    code            text collate "C" not null,
    kind            text   not null,
    what            text   not null,
    hold            text   not null,
    about           text[],
    withdraws       text collate "C",
    by              text   not null,
    role            text   not null,
    signed_on       date   not null,
    minutes         int    not null,
    people          int    not null,
    planned_minutes int    not null,
    photos          text[],
    note            text   not null,
    entry           bigint not null,
    constraint sign_offs_key primary key (firm, fit_out, code),
    constraint sign_offs_code_given check (code <> ''),
    constraint sign_offs_kind_known check (kind in ('work-done', 'hold', 'closed-up')),
    constraint sign_offs_what_given check (what <> ''),
    constraint sign_offs_by_given check (by <> ''),
    constraint sign_offs_withdraws_known foreign key (firm, fit_out, withdraws) references sign_offs,
    constraint sign_offs_withdrawn_once unique (firm, fit_out, withdraws),
    constraint sign_offs_figures_not_negative check (minutes >= 0 and people >= 0 and planned_minutes >= 0)
);

-- guard_sign_off_about: everything that a sign-off is about exists.
-- +goose StatementBegin
create function guard_sign_off_about() returns trigger language plpgsql set jit = off as $$
declare
    bad text;
begin
    if exists (select from written w where not exists (select from fit_outs f where f.firm = w.firm and f.fit_out = w.fit_out)) then
        raise 'there is no such fit-out' using errcode = 'foreign_key_violation', constraint = 'fit_out_known';
    end if;
    select min(w.code || ' names ' || w.of) into bad from (
            select firm, fit_out, code, unnest(about) as of from written where about is not null) w
        where not exists (select from elements n where n.firm = w.firm and n.fit_out = w.fit_out and n.code = w.of)
            and not exists (select from fixings n where n.firm = w.firm and n.fit_out = w.fit_out and n.code = w.of)
            and not exists (select from holes n where n.firm = w.firm and n.fit_out = w.fit_out and n.code = w.of)
            and not exists (select from assemblies n where n.firm = w.firm and n.fit_out = w.fit_out and n.code = w.of)
            and not exists (select from hosts n where n.firm = w.firm and n.fit_out = w.fit_out and n.code = w.of);
    if bad is not null then
        raise '%', bad using errcode = 'foreign_key_violation', constraint = 'sign_offs_about_known', hint = bad;
    end if;
    return null;
end $$;
-- +goose StatementEnd

create trigger sign_offs_about_insert after insert on sign_offs referencing new table as written
    for each statement execute function guard_sign_off_about();
create trigger sign_offs_never_changed before update on sign_offs for each statement execute function never_changed();
create trigger sign_offs_never_deleted before delete on sign_offs for each statement execute function never_deleted();
create trigger sign_offs_never_emptied before truncate on sign_offs for each statement execute function never_deleted();
