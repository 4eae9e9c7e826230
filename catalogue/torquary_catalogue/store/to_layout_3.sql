-- Layout 3.
DROP TABLE IF EXISTS role_cover; -- a macro now
