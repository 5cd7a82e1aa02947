-- Photos as they are kept: upright, scaled down, with nothing in the file but the picture. They are named by what they hold.

-- +goose Up

create table photos (
    firm       bigint not null,
    fit_out    bigint not null,
    sha256     text collate "C" not null, -- of content
    media_type text   not null,
    width_px   int    not null,
    height_px  int    not null,
    taken      text   not null, -- by the camera's own clock, '' where it did not say
    located    boolean not null,
    latitude   double precision not null,
    longitude  double precision not null,
    sent_by    text   not null,
    sent_at    timestamptz not null default clock_timestamp(),
    content    bytea  not null,
    small      bytea  not null,
    constraint photos_key primary key (firm, fit_out, sha256),
    constraint photos_fit_out_known foreign key (firm, fit_out) references fit_outs,
    constraint photos_sha256_of_content check (sha256 = encode(sha256(content), 'hex')),
    constraint photos_size_positive check (width_px > 0 and height_px > 0),
    constraint photos_place_asked_for check (located or (latitude = 0 and longitude = 0)),
    constraint photos_place_on_globe check (latitude between -90 and 90 and longitude between -180 and 180),
    constraint photos_by_given check (sent_by <> '')
);

alter table photos alter column content set storage external; -- a JPEG does not get smaller
alter table photos alter column small set storage external;

create trigger photos_never_changed before update on photos for each statement execute function never_changed();
create trigger photos_never_deleted before delete on photos for each statement execute function never_deleted();
create trigger photos_never_emptied before truncate on photos for each statement execute function never_deleted();

-- A photo of a piece, a fixing, a hole or a surface is signed for like anything else that somebody saw.
alter table sign_offs drop constraint sign_offs_kind_known;
alter table sign_offs add constraint sign_offs_kind_known check (kind in ('work-done', 'hold', 'closed-up', 'photographed'));
