-- An assembly is struck out as a whole, with the reason; everything in it is struck with it.

-- +goose Up

alter table assemblies
    add column struck boolean not null default false,
    add column reason text not null default '',
    add constraint assemblies_struck_reason check (not struck or reason <> '');
