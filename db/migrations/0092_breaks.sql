-- Breaks of the working day, so that times of day are those on the clock.

-- +goose Up

alter table fit_outs add column breaks text[];
