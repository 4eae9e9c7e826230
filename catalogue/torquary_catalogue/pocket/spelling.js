// The nearest known words for one that nobody knows, as find/spelling.py offers them; they are never taken.
const NEAR_WORDS = () => {
  const words = new Map([...PRINTED].map((word) => [word, 0]));
  for (const [kind, , spelling] of RULES.words) if (kind !== "wish" && !spelling.includes(" ")) words.set(spelling, 1);
  return [...words].filter(([word]) => !/[0-9_]/.test(word));
};
let nearWords = null;

function offerSpellings(question, strange) {
  const offers = [];
  let words = question.typed || question.words || "";
  for (const word of strange) {
    const near = findNear(word);
    offers.push(...near.slice(0, 3).map((one) => ({ word: word, instead: one, words: putWord(words, word, one) })));
    if (near.length) words = putWord(words, word, near[0]);
  }
  if (unique(offers.map((offer) => offer.word)).length > 1)
    offers.unshift({ word: offers[0].word + " … " + offers[offers.length - 1].word, instead: "", words: words });
  return offers;
}
function findNear(word) {
  const letters = word.match(/^[\p{L}\p{Nl}\p{No}]+(?=[0-9])/u), length = [...word].length;
  if (letters) return typesOf(letters[0]);
  if (length < 4) return [];
  nearWords = nearWords || NEAR_WORDS();
  const most = length < 5 ? 1 : length < 8 ? 2 : 3, found = [];
  for (const [other, known] of nearWords) {
    if (other === word || Math.abs([...other].length - length) > 2) continue;
    const away = editDistance(other, word, most);
    if (away <= most) found.push([[away, -known, -jaroWinkler(other, word), other], other]);
  }
  return found.sort(([a], [b]) => inOrder(a, b)).slice(0, 3).map(([, other]) => other);
}
function typesOf(letters) {
  const found = [...PRINTED].filter((word) => word >= letters + "0" && word < letters + ":" && /^[^0-9_]+[0-9][0-9p]*$/.test(word));
  return found.sort((a, b) => inOrder([[...a].length, a], [[...b].length, b])).slice(0, 6);
}
function putWord(words, word, instead) {
  const typed = words.split(/\s+/).filter(Boolean);
  for (const length of [1, 2])
    for (let at = 0; at + length <= typed.length; at += 1)
      if (foldWords(typed.slice(at, at + length).join(" ")).join("") === word)
        return [...typed.slice(0, at), instead, ...typed.slice(at + length)].join(" ");
  return words + " " + instead;
}
// Letters changed, left out, added or swapped (Damerau and Levenshtein).
function editDistance(a, b) {
  const last = new Map(), far = a.length + b.length, rows = [Array(b.length + 2).fill(far)];
  rows.push([far, ...Array.from({ length: b.length + 1 }, (_, at) => at)]);
  for (let i = 1; i <= a.length; i += 1) {
    const row = [far, i];
    let match = 0;
    for (let j = 1; j <= b.length; j += 1) {
      const k = last.get(b[j - 1]) || 0, l = match, same = a[i - 1] === b[j - 1];
      if (same) match = j;
      row.push(Math.min(rows[i][j] + (same ? 0 : 1), row[j] + 1, rows[i][j + 1] + 1, rows[k][l] + (i - k - 1) + 1 + (j - l - 1)));
    }
    last.set(a[i - 1], i);
    rows.push(row);
  }
  return rows[a.length + 1][b.length + 1];
}
function jaroWinkler(a, b) {
  const reach = Math.max(0, Math.floor(Math.max(a.length, b.length) / 2) - 1), used = Array(b.length).fill(false), left = [];
  for (let i = 0; i < a.length; i += 1) {
    for (let j = Math.max(0, i - reach); j < Math.min(b.length, i + reach + 1); j += 1) {
      if (used[j] || a[i] !== b[j]) continue;
      used[j] = true;
      left.push(a[i]);
      break;
    }
  }
  const right = [...b].filter((_, at) => used[at]), same = left.length;
  if (!same) return 0;
  const swapped = left.filter((letter, at) => letter !== right[at]).length / 2;
  const jaro = (same / a.length + same / b.length + (same - Math.floor(swapped)) / same) / 3;
  let prefix = 0;
  while (prefix < Math.min(4, a.length, b.length) && a[prefix] === b[prefix]) prefix += 1;
  return jaro > 0.7 ? jaro + prefix * 0.1 * (1 - jaro) : jaro;
}
