-- What happened, in order; only ever added to. Each entry's hash is made of the one before and its own fields.
create table if not exists entry (
  seq bigint primary key,
  written_ms bigint not null,
  well varchar(200) not null,
  what varchar(40) not null,
  subject varchar(1000) not null,
  by_whom varchar(200) not null,
  body text not null,
  hash char(64) not null
);
create index if not exists entry_what on entry (well, what);

-- The newest entry; whoever adds one holds this row.
create table if not exists head (
  id integer primary key,
  seq bigint not null,
  hash char(64) not null
);
insert into head (id, seq, hash) select 1, 0, '0000000000000000000000000000000000000000000000000000000000000000' where not exists (select 1 from head);

-- Alarms as they stand now: what their entries make of them.
create table if not exists alarm (
  id varchar(64) primary key,
  well varchar(200) not null,
  point varchar(1000) not null,
  rule varchar(200) not null,
  priority integer not null,
  state varchar(40) not null,
  asks boolean not null,
  raised_ms bigint not null,
  seq bigint not null,
  raised_summary text not null,
  finding text not null,
  latches boolean not null,
  times integer not null,

  acknowledged_by varchar(200),
  acknowledged_ms bigint,
  note varchar(10000) not null
);
create index if not exists alarm_open on alarm (well, state);
create index if not exists alarm_point on alarm (well, point, state);
create index if not exists alarm_newest on alarm (well, raised_ms);

-- What is not to ask anybody: shelved for a time, suppressed by the plan, or out of service.
create table if not exists hold (
  well varchar(200) not null,
  point varchar(1000) not null,
  how varchar(40) not null,
  until_ms bigint,
  by_whom varchar(200) not null,
  reason varchar(5000) not null,
  since_ms bigint not null,
  primary key (well, point)
);

-- How far each partition of a topic has been taken in, in the same transaction as what it said.
create table if not exists inbox (
  topic varchar(200) not null,
  partition_no integer not null,
  next_offset bigint not null,
  primary key (topic, partition_no)
);

-- What must leave the machine, in the same transaction as the alarm it is about.
create table if not exists outbox (
  seq bigint generated always as identity primary key,
  route varchar(200) not null,
  alarm varchar(64) not null references alarm (id),
  event varchar(40) not null,
  priority integer not null,
  finding text not null,
  attempts integer not null,
  next_ms bigint not null,
  delivered_ms bigint,
  fault varchar(10000) not null,
  unique (route, alarm, event)
);
create index if not exists outbox_due on outbox (route, delivered_ms, next_ms);
