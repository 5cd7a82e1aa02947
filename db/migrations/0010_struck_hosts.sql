-- A host surface that is not there, or was logged by mistake, is struck out with the reason.

-- +goose Up

alter table hosts
    add column struck boolean not null default false,
    add column reason text not null default '',
    add constraint hosts_struck_reason check (not struck or reason <> '');
