-- How much of the works an issue is for, in words: '' is all of them.

-- +goose Up

alter table issues add column scope text not null default '';
