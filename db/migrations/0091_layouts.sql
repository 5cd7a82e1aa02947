-- A layout of the next premises, which nobody has built yet.

-- +goose Up

alter table fit_outs add column not_built boolean not null default false;
