-- Layout 5: the words of each sheet.
INSERT INTO sheet_words BY NAME
SELECT w.sheet, string_agg(DISTINCT w.word, ' ' ORDER BY w.word) AS all_words
FROM (SELECT sheet, unnest(string_split(all_words, ' ')) AS word FROM setting) AS w
WHERE w.sheet NOT IN (SELECT sheet FROM sheet_words)
GROUP BY w.sheet;
