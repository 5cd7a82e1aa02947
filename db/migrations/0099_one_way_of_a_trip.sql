-- The driving of a trip, there and back, and the way from one place to the other were asked for twice. There is one term now,
-- the way: what was kept for the driving is halved for it where the way itself was not typed, to no more than the way may be.

-- +goose Up

update move_terms
set terms = jsonb_set(jsonb_set(terms, '{programme}', coalesce(nullif(terms -> 'programme', 'null'), '{}')), '{programme,travel_minutes}',
    to_jsonb(least(240, ceil((terms #>> '{vehicle,minutes_per_trip}')::numeric / 2)::int)))
where terms #> '{vehicle,minutes_per_trip}' is not null
    and terms #> '{programme,travel_minutes}' is null
    and (terms #>> '{vehicle,minutes_per_trip}')::numeric > 0;

update move_terms
set terms = terms #- '{vehicle,minutes_per_trip}'
where terms #> '{vehicle,minutes_per_trip}' is not null;
