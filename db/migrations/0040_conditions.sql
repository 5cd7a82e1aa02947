-- What was recorded of a surface's condition only grows: it is what the parties hold each other to.

-- +goose Up

-- conditions_grow refuses a host surface whose older condition records are not those it had, in their order.
-- +goose StatementBegin
create function conditions_grow() returns trigger language plpgsql set jit = off as $$
declare
    had int := coalesce(jsonb_array_length(nullif(old.conditions, 'null')), 0);
begin
    if had = 0 or new.conditions = old.conditions then
        return new;
    end if;
    if coalesce(jsonb_array_length(nullif(new.conditions, 'null')), 0) < had then
        raise 'condition records only grow' using errcode = 'restrict_violation', constraint = 'conditions_only_grow', hint = old.code;
    end if;
    for i in 0 .. had - 1 loop
        if new.conditions -> i is distinct from old.conditions -> i then
            raise 'condition records only grow' using errcode = 'restrict_violation', constraint = 'conditions_only_grow', hint = old.code;
        end if;
    end loop;
    return new;
end $$;
-- +goose StatementEnd

create trigger hosts_conditions_grow before update on hosts for each row execute function conditions_grow();
