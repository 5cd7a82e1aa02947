-- What tenant and landlord said to the items of an issue, and the workbooks that came back. All of it only grows.

-- +goose Up

-- A workbook that came back and could be read. It is taken when statements name it; until then it lies here, received.
create table returned (
    firm        bigint not null,
    fit_out     bigint not null,
    document    text collate "C" not null,
    issue       int    not null,
    sha256      text collate "C" not null, -- of content
    party       text   not null,
    content     bytea  not null,
    received_at timestamptz not null default clock_timestamp(),
    received_by text   not null,
    constraint returned_key primary key (firm, fit_out, document, issue, sha256, party),
    constraint returned_issue_known foreign key (firm, fit_out, document, issue) references issues,
    constraint returned_sha256_of_content check (sha256 = encode(sha256(content), 'hex')),
    constraint returned_party_known check (party in ('tenant', 'landlord')),
    constraint returned_by_given check (received_by <> '')
);

alter table returned alter column content set storage external;

create trigger returned_never_changed before update on returned for each statement execute function never_changed();
create trigger returned_never_deleted before delete on returned for each statement execute function never_deleted();
create trigger returned_never_emptied before truncate on returned for each statement execute function never_deleted();

create table statements (
    firm     bigint not null,
    fit_out  bigint not null,
    place    bigint generated always as identity, -- keeps the order in which they were made
    document text collate "C" not null,
    issue    int    not null,
    item     int    not null,
    party    text   not null,
    verdict  text   not null,
    figure   bigint, -- in minor units; null where none was given
    remarks  text   not null,
    said_by  text   not null,
    said_at  timestamptz not null,
    source   text collate "C" not null, -- 'page', 'link', or the SHA-256 of the workbook that came back
    entry    bigint not null,
    constraint statements_key primary key (firm, fit_out, place),
    constraint statements_issue_known foreign key (firm, fit_out, document, issue) references issues,
    constraint statements_item_known foreign key (firm, fit_out, document, item) references item_numbers (firm, fit_out, document, number),
    constraint statements_party_known check (party in ('tenant', 'landlord')),
    constraint statements_verdict_known check (verdict in ('', 'agreed', 'disputed', 'done')),
    constraint statements_figure_not_negative check (figure >= 0),
    constraint statements_say_something check (verdict <> '' or figure is not null or remarks <> ''),
    constraint statements_by_given check (said_by <> '')
);

create index statements_of_issue on statements (firm, fit_out, document, issue);

create trigger statements_never_changed before update on statements for each statement execute function never_changed();
create trigger statements_never_deleted before delete on statements for each statement execute function never_deleted();
create trigger statements_never_emptied before truncate on statements for each statement execute function never_deleted();
