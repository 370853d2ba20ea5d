-- How far each well's desk has taken in each partition of a topic, in the same transaction as what it said: several wells
-- may share a journal, and what one has taken in another may not have. An alarm's id is made of its well, so it needs none.
create table if not exists well_inbox (
  well varchar(200) not null,
  topic varchar(200) not null,
  partition_no integer not null,
  next_offset bigint not null,
  primary key (well, topic, partition_no)
);

-- The one well of a journal goes on where it stopped. Where there were several, each takes the topic in from its start:
-- what it knows changes nothing.
create table if not exists inbox (topic varchar(200), partition_no integer, next_offset bigint);
insert into well_inbox (well, topic, partition_no, next_offset)
  select w.well, i.topic, i.partition_no, i.next_offset from inbox i
  cross join (select max(well) as well from entry where well <> '' having count(distinct well) = 1) w
  where not exists (select 1 from well_inbox);
drop table inbox;
