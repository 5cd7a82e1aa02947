-- The decorated area of a host surface that is not the whole of its rectangle: a wall under a sloping roof, or with a
-- large opening. 0 takes the rectangle.

-- +goose Up

alter table hosts
    add column finish_m2 double precision not null default 0,
    add constraint hosts_finish_m2_fits check (finish_m2 >= 0 and finish_m2 <= 1000000);
