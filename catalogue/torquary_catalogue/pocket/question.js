// A question as find/question.py takes it from typed words. Figures are texts of exact decimals.
const form = ([pattern, flags]) => new RegExp(pattern, flags + "gu");
const FORMS = Object.fromEntries(Object.entries(RULES.forms).map(([name, one]) => [name, form(one)]));
const exact = exactArea;
const decimal = (text) => text.replace(",", ".").replace(/^0+(?=[0-9])/, "");
const bare = (text) => decimal(text.replace("p", "."));
const BARE = new Set(RULES.bare_sizes.map((size) => String(exact(size))));
const SMALLEST = exact(RULES.smallest_mm2), LARGEST = exact(RULES.largest_mm2);
const RATED = new Set(RULES.rated);
const SIDES = new Set(RULES.sides);
const PARTS = RULES.parts;

class Fault extends Error {}
const given = (value) => value !== undefined && value !== null;
const nameSize = (size) => given(size.mm2) ? size.mm2 + " mm²" : given(size.awg) ? (size.awg.includes("kcmil") ? size.awg : "AWG " + size.awg) : "";
const partsOf = (question) => Object.fromEntries(PARTS.filter((name) => given(question[name])).map((name) => [name, question[name]]));
const without = (question, ...names) => Object.fromEntries(Object.entries(question).filter(([name]) => !names.includes(name)));
const freeWords = (question) => (question.words || "").split(" ").filter(Boolean);
function withoutWords(question, words) {
  const left = freeWords(question).filter((word) => !words.includes(word));
  return { ...question, words: left.length ? left.join(" ") : null };
}
function nameRating(question) {
  if (!given(question.amps)) return "";
  return question.curve ? question.curve.slice(-1).toUpperCase() + question.amps : question.amps + " A";
}

function readQuestion(typed) {
  const parts = {}, said = [];
  const rest = takeRating(takeSize(typed, parts, said), parts);
  const left = takeBareSize(takeWords(rest, parts), parts, said);
  const asksBit = parts.wish === "bit";
  delete parts.wish;
  if (left.length) parts.words = left.join(" ");
  if (!Object.keys(parts).length) throw new Fault(RULES.nothing_asked);
  return { ...parts, said: said, typed: typed, asks_bit: asksBit };
}
function findSizes(text) {
  const metric = [...text.matchAll(FORMS.mm2)].map((found) => readMetric(found));
  const gauges = [...text.matchAll(FORMS.gauge)].map((found) => readGauge(found));
  return [...metric, ...gauges].sort((a, b) => a.start - b.start);
}
function readMetric(found) {
  return { mm2: decimal(found.groups.mm2), short: given(found.groups.short), ...placeOf(found) };
}
function readGauge(found) {
  const { kcmil, after, before } = found.groups;
  let awg = kcmil ? kcmil.replace(",", ".") + " kcmil" : after || before;
  if (!kcmil && /^0+$/.test(awg)) awg = awg.length + "/0";
  else if (!kcmil && !awg.includes("/")) awg = String(Number(awg));
  return { awg: awg, short: false, ...placeOf(found) };
}
const placeOf = (found) => ({ count: found.groups.count ? Number(found.groups.count) : null, start: found.index, end: found.index + found[0].length });

function takeSize(text, parts, said) {
  const sizes = findSizes(text);
  if (sizes.length > 1)
    throw new Fault("two conductor sizes are asked for (" + sizes.map(nameSize).join(" and ") + "): ask for one at a time");
  for (const size of sizes) {
    if (given(size.mm2) && (exact(size.mm2) < SMALLEST || exact(size.mm2) > LARGEST))
      throw new Fault(nameSize(size) + " is no size of a conductor: write it like 10 mm2");
    if (given(size.mm2)) parts.mm2 = size.mm2;
    if (given(size.awg)) parts.awg = size.awg;
    if (size.count) parts.conductors = size.count;
    if (size.short) said.push("“" + text.slice(size.start, size.end).trim() + "” was taken for " + nameSize(size) + ".");
    return text.slice(0, size.start) + " " + text.slice(size.end);
  }
  return text;
}
function takeRating(text, parts) {
  const curves = [...text.matchAll(FORMS.curve)].filter((found) => RATED.has(Number(found.groups.amps)));
  const found = [...curves, ...text.matchAll(FORMS.amps)].sort((a, b) => a.index - b.index);
  for (const one of found) {
    const amps = decimal(one.groups.amps), curve = one.groups.curve && one.groups.curve.toLowerCase();
    if (curve && PRINTED.has(curve + amps)) continue;
    parts.amps = amps;
    if (curve) parts.curve = "curve_" + curve;
    return text.slice(0, one.index) + " " + text.slice(one.index + one[0].length);
  }
  return text;
}
function takeBareSize(left, parts, said) {
  const numbers = left.filter(isNumber);
  if (numbers.length !== 1 || "mm2" in parts || "awg" in parts) return left;
  const value = bare(numbers[0]);
  if (!BARE.has(String(exact(value)))) return left;
  parts.mm2 = value;
  said.push("“" + value + "” was taken for " + value + " mm²; for a rated current write " + value + "A.");
  return left.filter((word) => word !== numbers[0]);
}
function takeWords(text, parts) {
  const words = readWords(text), taken = new Set();
  for (const [[first, end], meanings] of words.meant) {
    const places = [...Array(end - first).keys()].map((at) => first + at);
    if (!Object.keys(meanings).length || places.some((at) => taken.has(at))) continue;
    if (take(meanings, words.tokens.slice(first, end).join(" "), parts)) places.forEach((at) => taken.add(at));
  }
  return words.tokens.filter((_, at) => !taken.has(at));
}
function take(meanings, phrase, parts) {
  for (const [kind, concept] of Object.entries(meanings)) {
    if (kind === "role") {
      if (takeRole(meanings, phrase, parts)) return true;
    } else if (kind === "wish") {
      if (concept === "bit") parts.wish = "bit";
      return true;
    } else if (!(kind in parts) && kind !== "or_role") {
      if (kind !== "ferrule") parts[kind] = concept;
      else if (concept in RULES.ferrules) parts.ferrule = RULES.ferrules[concept];
      return true;
    }
  }
  return false;
}
function takeRole(meanings, phrase, parts) {
  const role = meanings.role, before = parts.roles || [];
  if (before.length > 1 || before.some((other) => SIDES.has(role) === SIDES.has(other))) return false;
  if ("or_role" in meanings || "or_roles" in parts)
    parts.or_roles = [...new Set([...(parts.or_roles || before), meanings.or_role || role])];
  parts.roles = [...before, role];
  const label = parts.terminal || "";
  parts.terminal = (/\d$/.test(label) ? [phrase, label] : [label, phrase]).filter(Boolean).join(" ");
  return true;
}
