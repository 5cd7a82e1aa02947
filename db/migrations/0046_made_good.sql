-- A repair is signed for like anything else.

-- +goose Up

alter table sign_offs drop constraint sign_offs_kind_known;
alter table sign_offs add constraint sign_offs_kind_known check (kind in ('work-done', 'hold', 'closed-up', 'photographed', 'made-good'));
