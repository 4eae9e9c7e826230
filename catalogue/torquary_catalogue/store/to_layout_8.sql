-- Layout 8: the record of the work on boards (work_entry.sql); earlier files have none of it.
SELECT 1;
