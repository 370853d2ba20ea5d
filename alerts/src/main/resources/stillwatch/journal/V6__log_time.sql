-- When it was by the log, where that is not this machine's time: in an exercise. The hash is made of it where it is there.
alter table entry add column if not exists log_ms bigint;
