-- The terms of a move as somebody last kept them: the saw cut, the vehicle and its price, what else is asked for with the
-- move. They are what a form begins with and no fact about the fit-out, so they are not in its log and not in its file; who
-- kept them and when stands beside them.

-- +goose Up

create table move_terms (
    firm    bigint      not null,
    fit_out bigint      not null,
    terms   jsonb       not null,
    kept_by text        not null,
    kept_at timestamptz not null,
    constraint move_terms_key primary key (firm, fit_out),
    constraint move_terms_fit_out_known foreign key (firm, fit_out) references fit_outs
);
