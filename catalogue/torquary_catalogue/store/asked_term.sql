CREATE TABLE IF NOT EXISTS asked_term (kind VARCHAR NOT NULL, key VARCHAR NOT NULL, term VARCHAR NOT NULL, definition VARCHAR NOT NULL, standard VARCHAR NOT NULL);
COMMENT ON TABLE asked_term IS 'The closed vocabularies: every key that settings and questions use, with its meaning.';
COMMENT ON COLUMN asked_term.kind IS 'Vocabulary: family, role, clamp, drive, stranding, material, purpose, condition, state, part or wish.';
COMMENT ON COLUMN asked_term.key IS 'The key.';
COMMENT ON COLUMN asked_term.term IS 'What people call it.';
COMMENT ON COLUMN asked_term.definition IS 'What it means.';
COMMENT ON COLUMN asked_term.standard IS 'The source of the definition, or common practice.';
