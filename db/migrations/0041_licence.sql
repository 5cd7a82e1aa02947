-- What the licence allows, item by item and by kind of fixing; and how known an assembly is that was entered from a survey.

-- +goose Up

alter table fit_outs
    add column licence_items jsonb,
    add column licence_conditions text[];

alter table hosts add column fixings_allowed text[];

alter table assemblies
    add column known text not null default '',
    add constraint assemblies_known_known check (known in ('', 'seen', 'measured', 'assumed', 'unknown'));
