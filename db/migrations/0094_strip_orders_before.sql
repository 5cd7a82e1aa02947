-- The orders of a strip-out that a crew has had in its hands, the newest last, each with what was left to take out while it
-- held: when a tick-off is taken back, the crew gets the order that it had before.

-- +goose Up

alter table strip_orders add column history jsonb;
update strip_orders set history = jsonb_build_array(jsonb_build_object('left', '[]'::jsonb, 'order', steps));
alter table strip_orders alter column history set not null, drop column steps;
