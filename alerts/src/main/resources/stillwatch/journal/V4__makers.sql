-- Who let somebody in, or made a link or a token, and when.
alter table person add column if not exists invited_by varchar(200) default '' not null;
alter table person add column if not exists since_ms bigint default 0 not null;
alter table token add column if not exists made_by varchar(200) default '' not null;
alter table token add column if not exists made_ms bigint default 0 not null;

-- Whose links are not known are made again; whose tokens, their entries say.
delete from token where once;
update token set made_by = coalesce(
  (select e.by_whom from entry e where e.what = 'token-made' and e.subject = token.name order by e.seq desc limit 1), '');
update token set made_ms = coalesce(
  (select e.written_ms from entry e where e.what = 'token-made' and e.subject = token.name order by e.seq desc limit 1), 0);
