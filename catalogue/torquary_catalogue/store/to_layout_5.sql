-- Layout 5: the words of each sheet (in rows of their own since layout 8).
CREATE TABLE IF NOT EXISTS sheet_words (sheet VARCHAR NOT NULL, all_words VARCHAR NOT NULL);
INSERT INTO sheet_words BY NAME
SELECT w.sheet, string_agg(DISTINCT w.word, ' ' ORDER BY w.word) AS all_words
FROM (SELECT sheet, unnest(string_split(all_words, ' ')) AS word FROM setting) AS w
WHERE w.sheet NOT IN (SELECT sheet FROM sheet_words)
GROUP BY w.sheet;
