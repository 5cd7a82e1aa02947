-- How giving the place back is priced beyond quantity times rate, and what the landlord has agreed in writing may stay.

-- +goose Up

alter table fit_outs add column terms jsonb;
alter table assemblies add column left_by text not null default '';
