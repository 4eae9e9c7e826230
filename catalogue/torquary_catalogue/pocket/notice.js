// An answer in words, before it is laid out, as show/notice.py puts it.
const MOST_SHOWN = 12;
const withCommas = (...parts) => parts.filter(Boolean).join(", ");
const standsAlone = (answer) => answer.kind === "differ" && unique(answer.rows.map(figuresOf)).length === 1;
const isAnswered = (answer) => ["one", "agree", "differ"].includes(answer.kind) && !answer.not_understood.length;

function headlineOf(answer) {
  const counted = countOf(answer.rows.length, "row");
  const count = answer.kind === "held" || standsAlone(answer) ? counted : String(answer.rows.length);
  const words = { count: count, size: nameSize(answer.question), strange: answer.not_understood.map(quoted).join(", ") };
  return RULES.headlines[headlineName(answer)].replace(/\{(\w+)\}/g, (_, name) => words[name]);
}
function headlineName(answer) {
  if (answer.not_understood.length) return "strange";
  if (answer.correspondence) return "across";
  if (standsAlone(answer)) return "beside held";
  if (["one", "agree"].includes(answer.kind) && answer.rows[0].row.is_limit) return answer.kind + " limit";
  return answer.kind === "unknown" && answer.notes.length ? "near" : answer.kind;
}
function writeAsked(answer) {
  const question = answer.question, fits = new Set([...answer.rows, ...answer.held].map((one) => one.terminal_fit));
  const second = fits.has("or_role") ? question.or_roles : null, first = fits.size === 1 && fits.has("or_role") ? null : question.roles;
  const terminal = [first, second].filter((roles) => roles && roles.length).map(nameRoles).join(" or ") || question.terminal;
  const named = (kind, key) => key ? RULES.terms[kind][key] || key.replaceAll("_", " ") : "";
  return withCommas(
    question.family && nameKind(question.family), question.maker, question.series, question.words && quoted(question.words), nameRating(question),
    terminal, question.part && namePart(question.part), nameSize(question), question.conductors && question.conductors + " in one terminal",
    named("material", question.material), named("stranding", question.stranding),
    given(question.ferrule) && (question.ferrule ? "with ferrule" : "without ferrule"),
    question.purpose && named("purpose", question.purpose) + " screw", question.asks_bit && "its driver bit");
}
function chooseShown(rows) {
  if (rows.length <= MOST_SHOWN) return rows;
  const first = new Map();
  rows.forEach((one, at) => { if (!first.has(figuresOf(one))) first.set(figuresOf(one), at); });
  const firsts = [...first.values()], taken = new Set(firsts), others = rows.map((_, at) => at).filter((at) => !taken.has(at));
  return [...firsts, ...others].slice(0, MOST_SHOWN).sort((a, b) => a - b).map((at) => rows[at]);
}
const conductorOf = (question, one) => withCommas(one.row.shown.conductor, ...notStated(question, one).map((name) => name + " not stated"));

// One row: its torque, shown large where it answers, and named lines.
function blockOf(question, one, large) {
  const shown = one.row.shown, conditions = shown.remarks.filter(([name]) => name === "condition");
  const lines = [...large || !shown.torque ? [] : [["torque", shown.torque]], ["limit", shown.limit], ["driver bit", shown.bit], ...conditions,
    ["device", shown.device], ["terminal", shown.terminal], ["conductor", conductorOf(question, one)], ["printed", shown.printed],
    ["sheet", shown.place], ...shown.remarks.filter(([name]) => name !== "condition")];
  return { large: large ? shown.torque : "", row: one.row, lines: lines.filter(([, text]) => text) };
}
// Rows that differ: each with what tells it apart and where it is printed; what is the same for all is told once.
function apartOf(question, rows) {
  const writers = [["device", (one) => one.row.shown.device], ["terminal", (one) => one.row.terminal_printed],
    ["conductor", (one) => conductorOf(question, one)], ["driver bit", (one) => one.row.shown.bit]];
  const cells = writers.map(([name, write]) => [name, rows.map(write)]), same = cells.filter(([, texts]) => unique(texts).length === 1 && texts[0]);
  const kept = cells.filter(([, texts]) => unique(texts).length > 1);
  const lines = (at) => [...kept.map(([name, texts]) => [name, texts[at]]), ["printed", rows[at].row.shown.printed], ["sheet", rows[at].row.shown.place], ...rows[at].row.shown.remarks];
  return { same: same.map(([name, texts]) => [name, texts[0]]), blocks: rows.map((one, at) => ({ large: one.row.shown.torques, row: one.row, lines: lines(at).filter(([, text]) => text) })) };
}
function noticeOf(answer, everyRow) {
  const rows = everyRow ? answer.rows : chooseShown(answer.rows), question = answer.question, differ = answer.kind === "differ";
  const apart = differ ? apartOf(question, rows) : { same: [], blocks: rows.map((one, at) => blockOf(question, one, isAnswered(answer) && !(at && answer.kind === "agree"))) };
  const without = answer.not_understood.length && answer.rows.length
    ? ["Without " + (answer.not_understood.length === 1 ? "it" : "them") + ": " + writeAsked(answer) + "."] : [];
  return {
    headline: headlineOf(answer), asked: writeAsked(answer), said_first: [...without, ...answer.said_first], same: apart.same,
    blocks: apart.blocks, small: differ, unseen: answer.rows.length - rows.length,
    notes: [...answer.correspondence ? [answer.correspondence] : [], ...differ ? sayDifferences(answer) : [], ...answer.notes],
    offers: answer.offers, choices: differ ? [] : answer.choices, choices_of: answer.choices_of,
  };
}
function sayDifferences(answer) {
  const settling = answer.differences.find((one) => one.settles);
  const said = settling ? ["Say the " + settling.aspect + " to tell them apart: " + settling.values.slice(0, 8).join(" | ")
    + (settling.values.length > 8 ? " | and " + (settling.values.length - 8) + " more" : "")] : [];
  const alike = unique(answer.rows.map(figuresOf)).length > 1 && !answer.differences.length;
  if (alike && !answer.rows.some((one) => one.row.is_limit)) said.push("The rows say the same in all but the figure: see the sheet.");
  return said;
}
