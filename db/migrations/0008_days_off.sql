-- Days off of the firm's own, and the working days kept in hand before a place is given back.

-- +goose Up

alter table fit_outs
    add column days_off text[],
    add column contingency_days int not null default 0,
    add constraint fit_outs_contingency_days_fit check (contingency_days between 0 and 250);
