-- What an entry of the log is about, so that the history of one record is found without reading every change.

-- +goose Up

-- log_about is the codes of what a change added, put in place of an older one or signed for. A text with a null character,
-- which no jsonb can hold, is about nothing: the domain takes none, and a log that is older is not refused for it.
-- +goose StatementBegin
create function log_about(change json) returns text[] language sql immutable strict parallel safe cost 1000 as $$
    select case when position('\u0000' in change::text) > 0 then '{}'::text[] else coalesce(array(
        select distinct code #>> '{}' from (
            select jsonb_path_query(change::jsonb, '$.add.*[*].code') as code
            union all select jsonb_path_query(change::jsonb, '$.put.*[*].code')
            union all select jsonb_path_query(change::jsonb, '$.add.sign_offs[*].about[*]')) found
        where jsonb_typeof(code) = 'string'), '{}'::text[]) end
$$;
-- +goose StatementEnd

create index log_by_about on log using gin (log_about(change));
