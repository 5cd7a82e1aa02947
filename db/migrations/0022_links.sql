-- Links by which somebody without an account reads and answers one issue. Of a link's secret only the hash is kept: what is
-- in the database opens nothing. A link is made, ends, and is visited; none of that is ever changed.

-- +goose Up

create table links (
    firm       bigint not null,
    link       bigint generated always as identity,
    fit_out    bigint not null,
    document   text collate "C" not null,
    issue      int    not null,
    secret     bytea  not null, -- SHA-256 of the 32 random bytes
    made_for   text   not null, -- whose answers come by it
    made_by    text   not null,
    made_at    timestamptz not null default clock_timestamp(),
    expires_at timestamptz not null,
    constraint links_key primary key (link),
    constraint links_secret_once unique (secret),
    constraint links_issue_known foreign key (firm, fit_out, document, issue) references issues,
    constraint links_secret_size check (octet_length(secret) = 32),
    constraint links_for_given check (made_for <> ''),
    constraint links_by_given check (made_by <> ''),
    constraint links_expire check (expires_at > made_at)
);

create index links_of_issue on links (firm, fit_out, document, issue);

create table link_ends (
    link       bigint not null,
    revoked_at timestamptz not null default clock_timestamp(),
    revoked_by text   not null,
    constraint link_ends_once primary key (link),
    constraint link_ends_link_known foreign key (link) references links
);

create table link_visits (
    visit   bigint generated always as identity primary key,
    link    bigint not null,
    at      timestamptz not null default clock_timestamp(),
    did     text   not null, -- read, file, answered, refused
    client  text   not null, -- the address that it came from
    constraint link_visits_link_known foreign key (link) references links,
    constraint link_visits_did_known check (did in ('read', 'file', 'answered', 'refused'))
);

create index link_visits_of_link on link_visits (link, visit);

-- +goose StatementBegin
do $$
declare
    noun text;
begin
    foreach noun in array array['links', 'link_ends', 'link_visits'] loop
        execute format('create trigger %I before update on %I for each statement execute function never_changed()', noun || '_never_changed', noun);
        execute format('create trigger %I before delete on %I for each statement execute function never_deleted()', noun || '_never_deleted', noun);
        execute format('create trigger %I before truncate on %I for each statement execute function never_deleted()', noun || '_never_emptied', noun);
    end loop;
end $$;
-- +goose StatementEnd
