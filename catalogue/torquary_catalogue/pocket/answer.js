// The answer to a question, one of six kinds, as find/answer.py gives it.
const FITTING = ["size", "unasked", "unsized"];
const fits = (one) => FITTING.includes(one.fit);
const isReleased = (one) => one.row.state === "released";
const isHeld = (one) => one.row.state === "held";
const figuresOf = (one) => one.row.figures.join("|");
const unique = (list) => [...new Set(list)];

function answerTo(question) {
  const rows = ask(question);
  const strange = rows.length ? [] : freeWords(question).filter((word) => !PRINTED.has(word));
  const answer = { held: [], differences: [], correspondence: "", said_first: [], notes: [], not_understood: [], offers: [], choices: [],
    question: question, rows: [], ...(strange.length ? answerRest(question, strange) : answerRows(question, rows)) };
  answer.notes = [...answer.notes, ...sayLimits(answer.rows)];
  return answer;
}
function answerRest(question, strange) {
  const rest = withoutWords(question, strange), offers = offerSpellings(question, strange), reach = countReach(rest);
  const asks = Object.keys(partsOf(rest)).length > 0;
  const rows = asks && reach <= RULES.most_beside ? ask(rest) : [];
  if (namesDevice(rest, strange) && namesTerminal(rest, rows) && rows.some(fits))
    return { question: rest, ...answerRows(rest, rows), not_understood: strange, offers: offers };
  const [notes, choices, base] = sayStrange(question, rest, rows, strange);
  if (asks && reach > RULES.most_beside)
    notes.push({ text: "Without it the question is for sheets with " + grouped(reach) + " settings", ask: rest });
  return { kind: "unknown", not_understood: strange, offers: offers, choices: choices, choices_of: base, notes: notes };
}
const grouped = (count) => String(count).replace(/\B(?=(\d{3})+$)/g, ",");
const isTypeWord = (word) => /\p{Nd}/u.test(word) && /\p{L}/u.test(word);
const namesDevice = (question, strange) => freeWords(question).some(isTypeWord) && !strange.some(isTypeWord);
function namesTerminal(question, rows) {
  if (given(question.terminal) || given(question.part)) return true;
  const words = freeWords(question);
  const label = (one) => one.row.terminal_printed.toLowerCase().split(/\s+/).filter(Boolean);
  return rows.length > 0 && rows.every((one) => hasAny(label(one), words));
}

function answerRows(question, rows) {
  const fitting = rows.filter((one) => fits(one) && isReleased(one)), held = rows.filter((one) => fits(one) && isHeld(one));
  if (fitting.length) return answerFigures(question, fitting, held, rows.filter((one) => one.fit === "other_system").length);
  if (held.length) {
    const notes = [...sayWhereHeld(held), ...sayOtherTerminals(question)];
    return { kind: "held", rows: held, said_first: sayFirst(question, held, []), notes: notes };
  }
  const others = rows.filter((one) => isReleased(one) && ["outside", "other_system"].includes(one.fit));
  if (others.length) return answerOutside(question, others, noteHeldNear(rows));
  const [notes, choices, base] = sayKnown(question, rows);
  return { kind: "unknown", notes: notes, choices: choices, choices_of: base };
}
function answerFigures(question, rows, held, others) {
  const differ = unique(rows.map(figuresOf)).length > 1 || holdsOthers(rows, held);
  return {
    kind: differ ? "differ" : rows.length === 1 ? "one" : "agree", rows: rows, held: held,
    differences: differ ? tellApart(rows) : [], said_first: sayFirst(question, rows, held),
    notes: noteFigures(question, rows, others), choices: differ ? listChoices(rows) : [],
  };
}
function holdsOthers(rows, held) {
  const named = ({ row }) => JSON.stringify([row.sheet, row.device_printed, row.terminal_printed]);
  const known = new Set(rows.map(named));
  return held.some((one) => !known.has(named(one)));
}
function noteHeldNear(rows) {
  const count = rows.filter(isHeld).length;
  if (!count) return [];
  return [count + " more " + (count === 1 ? "reading for another size waits" : "readings for other sizes wait") + " for a decision: torquary held"];
}
function answerOutside(question, rows, notes) {
  const printed = rows.filter((one) => one.fit === "outside"), first = sayFirst(question, rows, []);
  if (printed.length) return { kind: "outside", rows: chooseNearest(question, printed), said_first: first, notes: notes };
  const across = carryAcross(question, rows);
  const said = across.rows.length ? notes : ["No row would hold it by this correspondence; all that are printed are shown.", ...notes];
  return { kind: "outside", rows: across.rows.length ? across.rows : rows, correspondence: across.text, said_first: first, notes: said };
}

function tellApart(rows) {
  const found = [];
  RULES.aspects.forEach((aspect, at) => {
    const met = new Map();
    for (const one of rows) {
      const value = one.row.apart[at];
      if (!met.has(value)) met.set(value, new Set());
      met.get(value).add(figuresOf(one));
    }
    if (met.size > 1) found.push({ aspect: aspect, values: [...met.keys()], settles: [...met.values()].every((figures) => figures.size === 1) });
  });
  return found.sort((a, b) => Number(b.settles) - Number(a.settles));
}
function countEach(names) {
  const counts = new Map();
  for (const name of names) counts.set(name, (counts.get(name) || 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1]);
}
function listChoices(rows) {
  const aspects = [["device", (row) => row.device_printed || row.model || ""], ["terminal", (row) => row.terminal_printed],
    ["conductor", (row) => row.conductor_named], ["sheet", (row) => row.file]];
  for (const [what, name] of aspects) {
    const counts = countEach(rows.map((one) => name(one.row)).filter(Boolean));
    if (counts.length > 1 || (what === "terminal" && counts.length)) return counts.map(([one, count]) => ({ what: what, name: one, count: count }));
  }
  return [];
}

// The rows just under and just over a size that no range holds.
function chooseNearest(question, rows) {
  const metric = given(question.mm2), size = metric ? exact(question.mm2) : circularMils(question.awg);
  const ranges = rows.map(({ row }) => metric ? [row.min_area, row.max_area] : [row.min_awg, row.max_awg].map((one) => given(one) ? circularMils(one) : null));
  const under = ranges.map(([, high]) => high !== null && high < size ? size - high : null);
  const over = ranges.map(([low]) => low !== null && low > size ? low - size : null);
  const smallest = (gaps) => gaps.reduce((low, gap) => gap !== null && (low === null || gap < low) ? gap : low, null);
  const near = [smallest(under), smallest(over)];
  return rows.filter((_, at) => (under[at] !== null && under[at] === near[0]) || (over[at] !== null && over[at] === near[1]));
}
// AWG n has the diameter 5 mil × 92^((36 − n) / 39) (ASTM B258), n/0 counts on as 0, −1, −2; a kcmil is 1000 circular mils.
function circularMils(size) {
  if (size.includes("kcmil")) return Number(size.match(/[0-9.]+/)[0]) * 1000;
  const number = size.includes("/") ? 1 - Number(size[0]) : Number(size);
  return (5 * 92 ** ((36 - number) / 39)) ** 2;
}
function carryAcross(question, rows) {
  if (given(question.awg)) return carryGauge(question, rows);
  const size = nameSize(question), area = exact(question.mm2);
  const round = rows.filter(({ row }) => row.system === "diameter" && holdsArea(row, area));
  if (round.length) return { rows: round, text: "The sheet prints diameters; " + size + " was compared with the area of a "
    + "round wire, one of several correspondences in use. A stranded conductor is thicker: measure it." };
  const pairs = RULES.pairings.filter((pair) => exact(pair.mm2) === area), chosen = choosePairing(pairs);
  const gauges = chosen ? chosen.gauges : [];
  const others = unique(pairs.flatMap((pair) => pair.gauges)).filter((one) => !gauges.includes(one)).sort((a, b) => circularMils(a) - circularMils(b));
  return { rows: rows.filter(({ row }) => gauges.some((gauge) => holdsGauge(row, gauge))), text: sayPaired(size, gauges.map(nameGauge), chosen, others.map(nameGauge)) };
}
function carryGauge(question, rows) {
  const pairs = RULES.pairings.filter((pair) => pair.gauges.includes(question.awg)), chosen = choosePairing(pairs);
  const areas = chosen ? [chosen.mm2] : [], written = (area) => area + " mm²";
  const others = unique(pairs.map((pair) => pair.mm2)).filter((one) => !areas.includes(one)).sort((a, b) => Number(a) - Number(b));
  return { rows: rows.filter(({ row }) => areas.some((area) => holdsArea(row, exact(area)))), text: sayPaired(nameSize(question), areas.map(written), chosen, others.map(written)) };
}
function choosePairing(pairs) {
  const seen = pairs.filter((pair) => pair.seen === "seen in print");
  return seen.find((pair) => pair.habit === RULES.habit) || seen[0] || null;
}
const nameGauge = (gauge) => gauge.includes("kcmil") ? gauge : "AWG " + gauge;
const holdsArea = (row, area) => (row.min_area !== null || row.max_area !== null) && within(row.min_area, area, row.max_area);
function holdsGauge(row, gauge) {
  const order = circularMils(gauge), end = (size) => given(size) ? circularMils(size) : null;
  return (given(row.min_awg) || given(row.max_awg)) && within(end(row.min_awg), order, end(row.max_awg));
}
function sayPaired(size, paired, chosen, others) {
  if (!chosen) return size + " is not printed in this system, and no correspondence for it is on file.";
  const also = others.length ? "; others pair it with " + others.join(", ") : "";
  return size + " is not printed. It was paired with " + paired.join(" or ") + " (" + chosen.source + "), one of several correspondences in use" + also + ". The sizes are not equal.";
}
