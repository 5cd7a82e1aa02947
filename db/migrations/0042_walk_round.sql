-- Every hole has a number on the map of its surface, given once; what tenant and surveyor say of it by that number is a
-- sign-off.

-- +goose Up

alter table holes add column numbers int[];

-- Those that are there get theirs in build order, as the program gives them.
alter table holes disable trigger user;
with placed as (
    select firm, fit_out, code, count,
        sum(count) over (partition by firm, fit_out, host order by built_order, code) - count as before
    from holes)
update holes h set numbers = array(select p.before::int + i from generate_series(1, p.count) i)
    from placed p where (h.firm, h.fit_out, h.code) = (p.firm, p.fit_out, p.code);
alter table holes enable trigger user;

-- numbers_stay refuses a set of holes that nobody moved other numbers than it had.
-- +goose StatementBegin
create function numbers_stay() returns trigger language plpgsql set jit = off as $$
begin
    if new.numbers[1:new.count] is distinct from old.numbers[1:new.count] and new.count <= old.count
        and (new.host, new.face, new.start_x, new.start_y, new.start_z, new.along_x, new.along_y, new.along_z)
            = (old.host, old.face, old.start_x, old.start_y, old.start_z, old.along_x, old.along_y, old.along_z)
        and new.positions_mm is not distinct from old.positions_mm and new.state <> 'struck' then
        raise 'a hole keeps its number' using errcode = 'restrict_violation', constraint = 'holes_numbers_stay', hint = old.code;
    end if;
    return new;
end $$;
-- +goose StatementEnd

create trigger holes_numbers_stay before update on holes for each row execute function numbers_stay();

alter table sign_offs
    add column number int not null default 0,
    add constraint sign_offs_number_not_negative check (number >= 0);
