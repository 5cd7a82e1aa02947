-- What a firm keeps for its next job: its prices, each with its day and currency, and (in work_rates, there since the
-- beginning) its own minutes. A job takes them into its own register, so that its log, its file and its plans hold them: what
-- the firm changes later changes no job by itself.

-- +goose Up

create table firm_prices (
    firm         bigint not null,
    place        bigint generated always as identity,
    currency     text   not null,
    key          text collate "C" not null,
    amount_minor bigint not null,
    unit         text   not null,
    since        date,
    note         text   not null,
    kept_by      text   not null,
    kept_at      timestamptz not null default now(),
    constraint firm_prices_key primary key (firm, place),
    constraint firm_prices_firm_known foreign key (firm) references firms
);

alter table fit_outs add column own_rates jsonb;
