-- Layout 10: an answer may say that the figures of a column are no torques.
ALTER TABLE answer ADD COLUMN IF NOT EXISTS no_torque BOOLEAN;
