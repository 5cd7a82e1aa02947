-- Issues of documents: what was sent, as it was sent, and the numbers that its items keep. All of it only grows.

-- +goose Up

create table issues (
    firm       bigint not null,
    fit_out    bigint not null,
    document   text collate "C" not null,
    number     int    not null,
    title      text   not null,
    media_type text   not null,
    sha256     text collate "C" not null, -- of content
    content    bytea  not null,
    head       text collate "C" not null, -- hash of the newest log entry that it covers, printed on it
    head_entry bigint not null,
    entry      bigint not null,           -- the log entry that says it was issued
    issued_at  timestamptz not null,
    issued_by  text   not null,
    sent_to    text[] not null,
    note       text   not null,
    currency   text   not null,
    lines      jsonb  not null,           -- its items as they went out
    constraint issues_key primary key (firm, fit_out, document, number),
    constraint issues_fit_out_known foreign key (firm, fit_out) references fit_outs,
    constraint issues_number_positive check (number >= 1),
    constraint issues_sha256_of_content check (sha256 = encode(sha256(content), 'hex')),
    constraint issues_head_hash check (head ~ '^[0-9a-f]{64}$'),
    constraint issues_logged_behind_head check (entry = head_entry + 1),
    constraint issues_sent_to_somebody check (cardinality(sent_to) > 0),
    constraint issues_by_given check (issued_by <> '')
);

alter table issues alter column content set storage external; -- a workbook does not get smaller

-- guard_issue: issues of one document count up by one.
-- +goose StatementBegin
create function guard_issue() returns trigger language plpgsql set jit = off as $$
begin
    if new.number <> 1 + coalesce((select max(number) from issues where firm = new.firm and fit_out = new.fit_out and document = new.document), 0) then
        raise 'issues count up by one' using errcode = 'restrict_violation', constraint = 'issues_count_up', table = tg_table_name;
    end if;
    return new;
end $$;
-- +goose StatementEnd

create trigger issues_count_up before insert on issues for each row execute function guard_issue();
create trigger issues_never_changed before update on issues for each statement execute function never_changed();
create trigger issues_never_deleted before delete on issues for each statement execute function never_deleted();
create trigger issues_never_emptied before truncate on issues for each statement execute function never_deleted();

-- The number of an item in a document, from the first issue that has it: never another, and never another item's.
create table item_numbers (
    firm     bigint not null,
    fit_out  bigint not null,
    document text collate "C" not null,
    key      text collate "C" not null, -- what the item is about
    number   int    not null,
    issue    int    not null,
    constraint item_numbers_key primary key (firm, fit_out, document, key),
    constraint item_numbers_once unique (firm, fit_out, document, number),
    constraint item_numbers_positive check (number >= 1),
    constraint item_numbers_issue_known foreign key (firm, fit_out, document, issue) references issues
);

create trigger item_numbers_never_changed before update on item_numbers for each statement execute function never_changed();
create trigger item_numbers_never_deleted before delete on item_numbers for each statement execute function never_deleted();
create trigger item_numbers_never_emptied before truncate on item_numbers for each statement execute function never_deleted();
