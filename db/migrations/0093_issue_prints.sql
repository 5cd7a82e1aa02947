-- The same issue to print, written with the same number, date and head and hashed beside it: for documents that have one.

-- +goose Up

alter table issues
    add column print_document   text collate "C",
    add column print_media_type text,
    add column print_sha256     text collate "C",
    add column print            bytea,
    add constraint issues_print_whole check (num_nulls(print_document, print_media_type, print_sha256, print) in (0, 4)),
    add constraint issues_print_sha256_of_print check (print_sha256 = encode(sha256(print), 'hex'));

alter table issues alter column print set storage external;
