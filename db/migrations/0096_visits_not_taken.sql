-- A visit that sent an answer which was not taken (a figure that cannot be read, a form from another site) is none that answered.

-- +goose Up

alter table link_visits drop constraint link_visits_did_known;
alter table link_visits add constraint link_visits_did_known check (did in ('read', 'file', 'answered', 'not-taken', 'refused'));
