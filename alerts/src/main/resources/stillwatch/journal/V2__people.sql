-- People and the machines that act for them.
create table if not exists person (
  name varchar(200) primary key,
  role varchar(40) not null,
  password varchar(500) not null
);

-- Tokens of machines, and links by which somebody may enter once; only their SHA-256 is kept.
create table if not exists token (
  digest char(64) primary key,
  name varchar(200) not null,
  role varchar(40) not null,
  once boolean not null,
  until_ms bigint
);

-- Requests that were acted on, so that the same one sent again is not.
create table if not exists request (
  id varchar(100) primary key,
  at_ms bigint not null
);
