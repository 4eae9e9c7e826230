// The words of a question, as find/words.py reads them: folded, types joined to their figures, phrases looked up.
const stripped = (text) => text.normalize("NFD").replace(/\p{M}/gu, "").normalize("NFC");
const lowered = (text) => [...text].map((letter) => letter.toLowerCase()).join("");
const foldText = (text) => lowered(stripped(text.normalize("NFC"))).replace(/[^\p{L}\p{N}]+/gu, " ").trim();
const foldWords = (text) => foldText(text).split(" ").filter(Boolean);

const isNumber = (word) => /^[0-9]+(?:p[0-9]+)?$/.test(word);
const isLetters = (word) => /^[\p{L}\p{Nl}\p{No}]+$/u.test(word);
const isMixed = (word) => /^[\p{L}\p{Nl}\p{No}]+[0-9][0-9p]*$/u.test(word);
const NOT_JOINED = new Set(RULES.kinds.filter((kind) => kind !== "wish"));

// A row of known_word as it stands in the page: [kind, concept, spelling, fit].
const WHOLE = new Map(), PARTLY = [];
for (const [kind, concept, spelling, fit] of RULES.words) {
  if (fit === "whole" || fit === "marking") {
    if (!WHOLE.has(spelling)) WHOLE.set(spelling, []);
    WHOLE.get(spelling).push([kind, concept, fit]);
  } else PARTLY.push([kind, concept, fit, spelling]);
}
const MEETS = {
  starts: (word, spelling) => word.startsWith(spelling),
  ends: (word, spelling) => word.endsWith(spelling),
  contains: (word, spelling) => word.includes(spelling),
};

function lookUp(phrase) {
  const partly = phrase.includes(" ") ? [] : PARTLY.filter(([, , fit, spelling]) => MEETS[fit](phrase, spelling));
  const found = [...(WHOLE.get(phrase) || []), ...partly];
  const widerOf = ([kind, concept]) => (kind === "role" && RULES.wider[concept]) || [];
  const ranked = found.map((one) => [[RULES.kinds.indexOf(one[0]), Number(one[2] === "marking"), -widerOf(one).length, one[1]], one]);
  ranked.sort(([a], [b]) => inOrder(a, b));
  const meanings = {};
  let wider = null;
  for (const [, one] of ranked) {
    const [kind, concept] = one;
    if (!(kind in meanings)) meanings[kind] = concept;
    if (kind !== "role") continue;
    if (wider === null) wider = widerOf(one);
    if (wider.includes(concept) && !("or_role" in meanings)) meanings.or_role = concept;
  }
  return meanings;
}
function inOrder(a, b) {
  for (let at = 0; at < a.length; at += 1) if (a[at] !== b[at]) return a[at] < b[at] ? -1 : 1;
  return 0;
}
function spans(count) {
  const all = [];
  for (let length = Math.min(RULES.longest_phrase, count); length > 0; length -= 1)
    for (let first = 0; first + length <= count; first += 1) all.push([first, first + length]);
  return all;
}
function readWords(text) {
  const tokens = foldWords(text.replace(/(?<=[0-9])[.,](?=[0-9])/g, "p"));
  const known = new Map();
  for (const span of spans(tokens.length)) {
    const phrase = tokens.slice(...span).join(" ");
    if (!known.has(phrase)) known.set(phrase, lookUp(phrase));
  }
  const joined = joinTypes(tokens, known);
  const meant = spans(joined.length)
    .map((span) => [span, known.get(joined.slice(...span).join(" ")) || {}])
    .filter(([, meanings]) => Object.keys(meanings).length);
  return { tokens: joined, meant: withoutFamiliesOfRoles(meant) };
}
function joinTypes(tokens, known) {
  const ahead = new Map(), behind = new Map(), joined = [];
  for (let at = 0; at + 1 < tokens.length; at += 1) {
    const [a, b] = [tokens[at], tokens[at + 1]];
    if (isLetters(a) && (isNumber(b) || isMixed(b))) ahead.set(at, a + b);
    if (isLetters(b) && isNumber(a)) behind.set(at, b + a);
  }
  for (let at = 0; at < tokens.length; ) {
    const one = ahead.get(at);
    if (one && isType(one, tokens[at], known, !isNumber(tokens[at + 1]))) { joined.push(one); at += 2; }
    else if (PRINTED.has(behind.get(at)) && !ahead.has(at + 1)) { joined.push(behind.get(at)); at += 2; }
    else { joined.push(tokens[at]); at += 1; }
  }
  return joined;
}
function isType(joined, letters, known, apart) {
  const meanings = Object.keys(known.get(letters) || {});
  if (PRINTED.has(joined)) return !meanings.some((kind) => NOT_JOINED.has(kind));
  return !apart && !meanings.length && [...letters].length <= RULES.type_letters;
}
function withoutFamiliesOfRoles(meant) {
  const families = meant.filter(([, meanings]) => "family" in meanings).map(([span]) => span);
  return meant.map(([span, meanings]) => {
    const apart = ([first, end]) => end <= span[0] || span[1] <= first;
    if (!("role" in meanings && families.some(apart))) return [span, meanings];
    const { family, ...others } = meanings;
    return [span, others];
  });
}
