-- The terms of a fit-out as they were at an entry of its log are found without reading the entries between.

-- +goose Up

create index log_terms on log (firm, fit_out, entry) where change -> 'fit_out' is not null;
