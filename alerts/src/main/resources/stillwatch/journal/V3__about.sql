-- What an alarm is about, as its finding says it: well, gauge, pair, watch, desk.
alter table alarm add column if not exists about varchar(10) default 'well' not null;
update alarm set about = 'pair' where rule = 'gauge-divergence';
-- The rules about single gauges that there were before findings said it.
update alarm set about = 'gauge'
  where rule in ('gauge-drifting', 'gauge-frozen', 'gauge-noisy', 'gauge-out-of-range', 'gauge-silent', 'gauge-spiking');
