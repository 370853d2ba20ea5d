-- Since when something is held back is the time of its entry. Before, the clock was read twice, and the two could lie a
-- millisecond apart: the record then did not agree with itself.
update hold set since_ms = coalesce(
  (select e.written_ms from entry e where e.what = 'held-back' and e.well = hold.well and e.subject = hold.point
   order by e.seq desc limit 1), since_ms);
