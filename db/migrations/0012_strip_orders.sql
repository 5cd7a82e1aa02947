-- The order of a strip-out that a crew has in its hands, with the numbers of its steps: planned again from it whenever
-- something is ticked off, so that it does not shuffle. covers is the log entry that the plan was made from; an order made
-- from an older one never takes the place of a newer.

-- +goose Up

create table strip_orders (
    firm    bigint not null,
    fit_out bigint not null,
    covers  bigint not null,
    steps   jsonb  not null,
    changes text[] not null,
    constraint strip_orders_key primary key (firm, fit_out),
    constraint strip_orders_fit_out_known foreign key (firm, fit_out) references fit_outs
);
