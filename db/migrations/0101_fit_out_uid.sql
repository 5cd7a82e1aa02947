-- Each fit-out gets an identity that no other has, in whatever installation: the events of its calendar file are named by
-- it. It is given once, in no file and in no log entry, so that a fit-out made from another's file is another.

-- +goose Up

alter table fit_outs
    add column uid uuid not null default gen_random_uuid(),
    add constraint fit_outs_uid_once unique (uid);
