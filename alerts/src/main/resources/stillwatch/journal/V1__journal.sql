-- Alarms as they stand now.
create table alarm (
  id varchar(64) primary key,
  well varchar(200) not null,
  rule varchar(200) not null,
  priority integer not null,
  state varchar(40) not null,
  raised_ms bigint not null,
  raised_summary varchar(1000000) not null,
  finding varchar(1000000) not null,
  acknowledged_by varchar(200),
  acknowledged_ms bigint,
  note varchar(10000) not null
);
create index alarm_open on alarm (well, state);
create index alarm_newest on alarm (well, raised_ms);

-- What happened, in order; only ever added to.
create table entry (
  seq bigint generated always as identity primary key,
  written_ms bigint not null,
  what varchar(40) not null,
  alarm varchar(64) not null references alarm (id),
  by_whom varchar(200) not null,
  body varchar(1000000) not null
);

-- How far each partition of a topic has been taken in, in the same transaction as what it said.
create table inbox (
  topic varchar(200) not null,
  partition_no integer not null,
  next_offset bigint not null,
  primary key (topic, partition_no)
);

-- What must leave the machine, in the same transaction as the alarm it is about.
create table outbox (
  seq bigint generated always as identity primary key,
  route varchar(200) not null,
  alarm varchar(64) not null references alarm (id),
  event varchar(40) not null,
  finding varchar(1000000) not null,
  attempts integer not null,
  next_ms bigint not null,
  delivered_ms bigint,
  fault varchar(10000) not null,
  unique (route, alarm, event)
);
