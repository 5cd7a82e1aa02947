-- Why a repair is signed for without a photo. Signatures from before say nothing of it, and are shown so.

-- +goose Up

alter table sign_offs add column no_photo text not null default '';
