-- Where phones reach the program: the QR codes on labels open pieces there.

-- +goose Up

alter table fit_outs
    add column link_base text not null default '',
    add constraint fit_outs_link_base_fits check (link_base = '' or link_base ~ '^https?://' and length(link_base) <= 100);
