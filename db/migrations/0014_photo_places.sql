-- A photo that was sent without its place may be sent again with it. Photos never change, so a place that comes later stands
-- beside its photo. Like all that is logged it is never changed and never deleted.

-- +goose Up

create table photo_places (
    firm      bigint not null,
    fit_out   bigint not null,
    sha256    text collate "C" not null,
    latitude  double precision not null,
    longitude double precision not null,
    sent_by   text   not null,
    sent_at   timestamptz not null default clock_timestamp(),
    constraint photo_places_key primary key (firm, fit_out, sha256),
    constraint photo_places_photo_known foreign key (firm, fit_out, sha256) references photos,
    constraint photo_places_on_globe check (latitude between -90 and 90 and longitude between -180 and 180),
    constraint photo_places_by_given check (sent_by <> '')
);

create trigger photo_places_never_changed before update on photo_places for each statement execute function never_changed();
create trigger photo_places_never_deleted before delete on photo_places for each statement execute function never_deleted();
create trigger photo_places_never_emptied before truncate on photo_places for each statement execute function never_deleted();
