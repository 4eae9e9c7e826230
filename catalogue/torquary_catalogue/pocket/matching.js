// Which rows bear on a question, as the macro find_setting tells it; each step has the name that it has there.
const has = (list, one) => Boolean(list) && list.includes(one);
const hasAny = (list, others) => others.some((one) => list.includes(one));
const hasAll = (list, others) => others.every((one) => list.includes(one));
const widerRoles = (roles) => (roles || []).flatMap((role) => RULES.wider[role] || []);
const hasPhrase = (folded, phrase) => given(phrase) && (" " + folded + " ").includes(" " + phrase + " ");
const fold = (text) => given(text) ? foldText(text) : null;

function gaugeRank(size) {
  if (!given(size)) return null;
  if (size in RULES.gauges) return RULES.gauges[size];
  const number = Number((size.match(/[0-9.]+/) || [])[0]);
  if (/kcmil|mcm/i.test(size)) return 39 * Math.log(Math.sqrt(number * 1000) / 5) / Math.log(92) - 36;
  return size.includes("/") ? number - 1 : -number;
}
function asked(question, state) {
  const label = fold(question.terminal), roles = question.roles || null;
  return {
    ...question, state: state || null, purpose: question.purpose || "electrical_terminal",
    tokens: fold(question.words || "").split(" ").filter(Boolean),
    family_words: given(question.family) && !(question.family in RULES.families) ? fold(question.family) : null,
    maker_words: fold(question.maker), series_words: fold(question.series), label: label,
    typed: given(question.words) || given(question.maker) || given(question.series),
    marking: label ? (label.match(/[a-z]+[0-9]+$/) || [""])[0] : "",
    position: question.part === "top" || question.part === "bottom",
    roles: roles, sided: Boolean(roles) && hasAny(roles, RULES.sides), wider: widerRoles(roles),
    or_wider: widerRoles(question.or_roles), of_conductors: (roles || []).filter((role) => !SIDES.has(role)),
    area: given(question.mm2) ? exact(question.mm2) : null, gauge: gaugeRank(question.awg),
    current: given(question.amps) ? Number(question.amps) : null,
  };
}
function looksAt(a) {
  const curveFits = (row) => !given(a.curve) || has(row.says, a.curve) || !(row.says || []).some((one) => one.startsWith("curve_"));
  return ROWS.filter((row) =>
    (row.purpose === a.purpose || (a.purpose === "no_terminal" && row.purpose !== "electrical_terminal"))
    && a.tokens.every((word) => hasPhrase(row.all_words, word))
    && (!given(a.family) || has(row.says, a.family) || row.family === a.family || hasPhrase(row.device_words, a.family_words))
    && (!given(a.maker_words) || hasPhrase(row.maker_words, a.maker_words))
    && (!given(a.series_words) || hasPhrase(row.series_words, a.series_words))
    && curveFits(row));
}
function otherMarking(row, marking) {
  if (!marking || hasPhrase(row.terminal_words, marking) || row.is_span) return false;
  return new RegExp("(^| )" + marking.replace(/[0-9]+$/, "") + "[0-9]+( |$)").test(row.terminal_words);
}
function terminalFit(row, a) {
  const unnamed = !row.roles.length, sided = hasAny(row.roles, RULES.sides), said = row.said;
  const own = (roles, wider) => hasAll(row.roles, roles.filter((role) => !wider.includes(role)));
  if (a.part && (row.placed || !a.position) && !has(row.says, a.part)) return null;
  if (a.position && !row.placed)
    return !a.roles && (unnamed || sided || hasAny(said, ["line", "main", "neutral", "earth"])) ? "elsewhere" : null;
  if (a.part && (!a.roles || unnamed)) return "label";
  if (!given(a.terminal) && !a.roles) return row.is_limit_for_all ? "any" : "unasked";
  if (hasPhrase(row.terminal_words, a.label) && (!a.roles || unnamed || hasAll(said, a.roles))) return "label";
  if (otherMarking(row, a.marking)) return null;
  if (a.roles && !unnamed && hasAll(said, a.roles)) return own(a.roles, a.wider) ? "role" : "narrower";
  if (a.or_roles && !unnamed && !sided && hasAll(said, a.or_roles) && own(a.or_roles, a.or_wider)) return "or_role";
  if (a.roles && !unnamed && !(sided && a.sided) && isWider(row, a)) return "wider";
  if (row.any_terminal) return "any";
  return a.sided && !a.of_conductors.length && row.placed && unnamed ? "elsewhere" : null;
}
function isWider(row, a) {
  if (!a.of_conductors.length) return hasAny(row.roles, a.wider);
  return hasAll(row.said, a.of_conductors) || hasAny(row.roles, widerRoles(a.of_conductors));
}
const within = (low, size, high) => (low === null || low <= size) && (high === null || size <= high);
function sizeFit(row, a) {
  const metric = row.min_area !== null || row.max_area !== null, gauged = row.min_gauge !== null || row.max_gauge !== null;
  if (a.area === null && a.gauge === null) return "unasked";
  if (a.area !== null && row.system !== "diameter" && metric) return within(row.min_area, a.area, row.max_area) ? "size" : "outside";
  if (a.gauge !== null && gauged) return within(row.min_gauge, a.gauge, row.max_gauge) ? "size" : "outside";
  if (metric || gauged) return "other_system";
  return /[0-9]/.test(row.conductor_printed) ? "unread" : "unsized";
}
function suits(row, a) {
  return (a.state ? row.state === a.state : row.state !== "rejected")
    && (!a.conductors || (row.conductor_count ?? 1) === a.conductors)
    && (!a.material || !row.material.length || row.material.includes(a.material))
    && !(a.material === "aluminium" && has(row.conditions, "no_aluminium"))
    && (!a.stranding || !row.stranding.length || row.stranding.includes(a.stranding))
    && (!given(a.ferrule) || row.ferrule === null || row.ferrule === a.ferrule)
    && !(a.ferrule === true && row.stranding.length === 1 && row.stranding[0] === "solid");
}
function told(row, a) {
  return {
    row: row, fit: sizeFit(row, a), terminal_fit: terminalFit(row, a), suits: suits(row, a),
    amps_said: Boolean(row.amps && row.amps.length), curve_said: given(a.curve) && has(row.says, a.curve),
    amps_fit: a.current !== null && (row.amps || []).some((one) => one.low <= a.current && a.current <= one.high),
    says_more: Boolean(a.roles) && !hasAll([...a.roles, ...a.wider], row.roles),
  };
}
function rated(rows, a) {
  const some = (name) => rows.some((one) => one[name]);
  const amps = some("amps_said"), fits = some("amps_fit"), curve = some("curve_said");
  return rows.filter((one) =>
    (a.current === null || one.amps_fit || (!one.amps_said && !fits && (a.typed || (given(a.family) && !amps))))
    && (!given(a.curve) || one.curve_said || curve || a.typed));
}
function groups(rows, keyOf) {
  const found = new Map();
  for (const one of rows) {
    const key = keyOf(one.row);
    if (!found.has(key)) found.set(key, []);
    found.get(key).push(one);
  }
  return found;
}
const deviceOf = (row) => JSON.stringify([row.sheet, row.device_printed, row.model]);
const terminalOf = (row) => JSON.stringify([row.sheet, row.device_printed, row.model, row.terminal_printed]);
function distance(one, a) {
  const fit = one.terminal_fit;
  if (fit === "unasked" || fit === "label") return 0;
  if (fit === "role" || fit === "narrower") return /[0-9]/.test(a.terminal || "") ? 1 : 0;
  if (fit === "any") return 3;
  return fit === "elsewhere" || (fit === "wider" && one.row.placed) ? 4 : 2;
}
function ranked(rows, a) {
  const devices = groups(rows, deviceOf);
  const parts = (one) => devices.get(deviceOf(one.row)).flatMap((other) => other.row.roles).some((role) => {
    const wider = widerRoles([role]);
    return !a.roles.includes(role) && ((hasAny(wider, one.row.roles) && !hasAny(wider, a.roles)) || (SIDES.has(role) && a.sided));
  });
  return rows.filter((one) => one.terminal_fit !== null && !(one.terminal_fit === "wider" && parts(one)))
    .map((one) => ({ ...one, distance: distance(one, a) }));
}
const least = (rows) => rows.reduce((low, one) => Math.min(low, one.distance), Infinity);
function nearest(rows) {
  const all = least(rows);
  return [...groups(rows, deviceOf).values()].flatMap((some) => {
    const near = least(some);
    return some.filter((one) => one.suits && one.distance === near && (near < 4 || all === 4));
  });
}
function ferruled(rows, a) {
  if (!given(a.ferrule)) return rows;
  return [...groups(rows, terminalOf).values()].flatMap((some) => {
    const said = some.some((one) => one.row.ferrule !== null);
    return some.filter((one) => one.row.ferrule !== null || !said);
  });
}
function parted(rows) {
  const waits = (one) => one.row.state === "held" && one.fit !== "outside" && one.fit !== "other_system";
  const count = (some) => some.filter(waits).length;
  return [...groups(rows, deviceOf).values()].flatMap((some) => {
    const alike = groups(some, (row) => [...row.roles].sort().join(" "));
    return some.filter((one) => !(one.row.state === "released" && (one.terminal_fit === "elsewhere" || one.says_more)
      && count(some) > count(alike.get([...one.row.roles].sort().join(" ")))));
  });
}
const FIT_ORDER = ["size", "unasked", "unsized", "outside", "other_system", "unread"];
const STATE_ORDER = ["released", "rejected", "held"];
function ask(question, state) {
  const a = asked(question, state);
  const found = parted(ferruled(nearest(ranked(rated(looksAt(a).map((row) => told(row, a)), a), a)), a));
  // The rows of the page stand in the order that the macro gives them beside fit and state.
  const keyOf = (one) => [FIT_ORDER.indexOf(one.fit), STATE_ORDER.indexOf(one.row.state), one.row.at];
  return found.map((one) => [keyOf(one), one]).sort(([x], [y]) => inOrder(x, y)).map(([, one]) => one);
}
function countReach(question) {
  const words = [...freeWords(question), ...(question.family || "").split(" ").filter(Boolean)];
  return SHEETS.filter((sheet) => words.every((word) => sheet.words.has(word))).reduce((sum, sheet) => sum + sheet.count, 0);
}
