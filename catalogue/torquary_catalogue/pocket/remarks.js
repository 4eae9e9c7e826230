// What is said with an answer, as find/remarks.py, known.py and limits_for_all.py say it. A note with `ask` goes on with that question.
const countOf = (count, thing) => count === 1 ? count + " " + thing : count + " " + thing + "s";
const listSome = (names, joint = ", ") => {
  const kept = unique(names);
  return kept.slice(0, 3).join(joint) + (kept.length > 3 ? " and " + (kept.length - 3) + " more" : "");
};
const term = (kind, key) => RULES.terms[kind][key] || key;
const nameRoles = (roles) => (roles || []).map((role) => term("role", role)).join(" and ");
const nameKind = (family) => RULES.terms.family[family] || family.replaceAll("_", " ");
const namePart = (part) => part === "pulse_output" ? "pulse output" : part;
const quoted = (text) => "“" + text + "”";

function sayFirst(question, rows, held) {
  const every = [...rows, ...held];
  return [...question.said || [], ...sayMeaning(question, every), ...sayElsewhere(question, every), ...sayHeld(held)];
}
function sayElsewhere(question, rows) {
  const elsewhere = rows.filter((one) => one.terminal_fit === "elsewhere");
  if (!elsewhere.length) return [];
  const printed = listSome(elsewhere.map((one) => quoted(one.row.terminal_printed)));
  return [quoted(question.part || question.terminal) + " is not printed; the words of the sheet are " + printed + ". Choose by these."];
}
function sayMeaning(question, rows) {
  if (!question.or_roles || !question.roles) return [];
  const devices = (...wanted) => unique(rows.filter((one) => wanted.includes(one.terminal_fit)).map((one) => one.row.device_printed));
  const second = devices("or_role"), first = devices("label", "role"), said = [];
  const word = quoted(question.terminal), supply = nameRoles(question.roles), phase = nameRoles(question.or_roles);
  if (first.length) said.push(word + " was taken for the " + supply + (second.length ? " of " + listSome(first) : "") + ".");
  if (second.length) said.push("The sheet names no " + supply + ": " + word + " was taken for the " + phase + (first.length ? " of " + listSome(second) : "") + ".");
  return said;
}
function sayHeld(held) {
  if (!held.length) return [];
  if (held[0].terminal_fit === "unasked")
    return [held.length + " more " + (held.length === 1 ? "reading would fit and waits" : "readings would fit and wait") + " for a decision: torquary held"];
  const places = held.map(({ row }) => row.terminal_printed + " of " + row.device_printed + ", " + row.file + " page " + (row.page ?? "None"));
  return ["Held for the terminal asked for, not given: " + listSome(places, "; ") + ". To decide: torquary held"];
}
function noteFigures(question, rows, others) {
  const notes = [], limits = rows.filter((one) => one.row.is_limit).length;
  if (limits && limits < rows.length)
    notes.push(limits + (limits === 1 ? " row prints" : " rows print") + " a limit alone: not more than that, which is no setting.");
  if (rows.some((one) => one.fit === "unsized")) notes.push("No conductor size is printed for the figure: check that the terminal takes yours.");
  const unstated = unique(rows.flatMap((one) => notStated(question, one)));
  if (unstated.length) {
    const named = unstated.join(" and ");
    notes.push(named[0].toUpperCase() + named.slice(1) + " not stated by the sheet: check that it takes yours.");
  }
  notes.push(...noteTerminals(question, rows));
  if (others) notes.push(others + " more " + (others === 1 ? "row prints" : "rows print") + " conductor sizes in another system, which were not compared.");
  return notes;
}
function notStated(question, { row, amps_said, curve_said }) {
  const asked = [["material", question.material, row.material.length], ["stranding", question.stranding, row.stranding.length],
    ["ferrule", question.ferrule, row.ferrule !== null], ["rated current", question.amps, amps_said], ["characteristic", question.curve, curve_said]];
  return asked.filter(([, wish, said]) => given(wish) && !said).map(([name]) => name);
}
function noteTerminals(question, rows) {
  const notes = [], asked = nameRoles(question.roles), printed = (some) => unique(some.map((one) => nameRoles(one.row.roles))).sort().join(", or ");
  if (rows.some((one) => one.terminal_fit === "any")) notes.push("The sheet names no terminal in particular: the figure stands for all of the device.");
  const wider = rows.filter((one) => one.terminal_fit === "wider");
  if (wider.length) notes.push("The sheet does not say " + quoted(asked) + ": the figure is printed for " + printed(wider) + ", without saying more.");
  const more = rows.filter((one) => one.terminal_fit === "narrower" || saysMore(question, one.row));
  if (more.length) notes.push("Asked was " + asked + "; the sheet says more: " + printed(more) + ".");
  return notes;
}
function saysMore(question, row) {
  const asked = question.roles || [], printed = row.roles;
  if (!asked.length || !printed.length) return false;
  if (asked.every((role) => SIDES.has(role))) {
    const implied = asked.flatMap((role) => RULES.wider[role] || []);
    return !printed.filter((role) => !SIDES.has(role)).every((role) => implied.includes(role));
  }
  return !asked.some((role) => SIDES.has(role)) && printed.some((role) => SIDES.has(role));
}
function sayLimits(rows) {
  const device = (row) => JSON.stringify([row.sheet, row.device_printed, row.model]);
  const devices = new Set(rows.map((one) => device(one.row))), shown = new Set(rows.map((one) => one.row));
  return LIMITS.filter((row) => devices.has(device(row)) && !shown.has(row))
    .map((row) => "For all terminals the sheet prints a limit: " + quoted(row.torque_printed) + " (" + row.file + " page " + (row.page ?? "None") + ").");
}
function sayWhereHeld(rows) {
  const places = rows.map(({ row }) => row.page ? row.file + ", page " + row.page : row.file);
  return ["Look at " + listSome(places, "; ") + ". To see each beside its picture: torquary held --pictures FOLDER"];
}
const TERMINAL = ["terminal", "roles", "or_roles", "part"], SIZE = ["mm2", "awg", "conductors"], RATING = ["amps", "curve"], KINDS = ["material", "stranding", "ferrule"];
const asksFor = (question) => Object.keys(partsOf(question)).length > 0;
function sayOtherTerminals(question) {
  const wider = without(question, ...TERMINAL);
  if (!given(question.terminal) || !asksFor(wider)) return [];
  const named = ask(wider).filter((one) => isReleased(one) && fits(one)).map((one) => one.row.terminal_printed);
  return named.length ? [{ text: "For other terminals a figure is known (" + listSome(named) + ")", ask: wider }] : [];
}
function sayKnown(question, rows) {
  const notes = [...sayNear(question, rows), ...sayRejected(question), ...sayOtherScrews(question), ...sayOutOfForce(question)];
  if (given(question.family) && !RULES.loaded_families.includes(question.family)) notes.push(...RULES.loaded_of);
  let choices = [], base = null;
  if (!rows.length) {
    const [said, others, rest] = findWithout(question);
    notes.push(...said.length ? said : sayDevice(question));
    if (others.length) choices = listChoices(others);
    base = choices.length ? rest : null;
  }
  notes.push(...RULES.refused);
  return [notes, choices.length ? choices : RULES.loaded, base];
}
function sayStrange(question, rest, rows, strange) {
  const refused = strange.filter((word) => RULES.refused_names.some((name) => hasPhrase(name, word)));
  const notes = [...sayOutOfForce(question), ...strange.filter((word) => !refused.includes(word))
    .map((word) => quoted(word) + " stands in no sheet in force, and is no word that is known here.")];
  const fitting = rows.filter((one) => fits(one) && (isReleased(one) || isHeld(one)));
  notes.push(...RULES.loaded_of);
  if (fitting.length) notes.push({ text: "Without it " + countOf(fitting.length, "row") + " would fit", ask: rest });
  notes.push(...RULES.refused);
  const choices = listChoices(fitting);
  return [notes, choices.length ? choices : RULES.loaded, choices.length ? rest : null];
}
function sayNear(question, rows) {
  const held = rows.filter(isHeld), notes = [];
  if (held.length) {
    const printed = listSome(held.map(({ row }) => (row.terminal_printed + " " + row.conductor_printed).trim()));
    notes.push("Readings for other conductors than " + nameSize(question) + " wait for a decision (" + printed + "): torquary held");
  }
  const unread = rows.filter(isReleased);
  return [...notes, ...unread.map(({ row }) => quoted(row.conductor_printed) + " was not read as a size (" + row.file + " page " + (row.page ?? "None") + "): compare it on the sheet.")];
}
const sayRejected = (question) => ask(question, "rejected").filter(fits).map((one) => one.row.rejected);
function sayOtherScrews(question) {
  const device = without(question, ...TERMINAL, ...SIZE, ...KINDS);
  if (given(question.purpose) || !asksFor(device)) return [];
  const found = groups(ask({ ...device, purpose: "no_terminal" }), (row) => row.purpose);
  return [...found].map(([purpose, rows]) => {
    const named = listSome(rows.map((one) => one.row.terminal_printed)), are = rows.length === 1 ? "is for another screw" : "are for other screws";
    return { text: countOf(rows.length, "row") + " " + are + " (" + term("purpose", purpose) + ": " + named + "), not for a terminal", ask: { ...device, purpose: purpose } };
  });
}
function sayOutOfForce(question) {
  const words = unique(foldWords([question.words, question.family, question.maker, question.series].filter(Boolean).join(" ")));
  const found = OUT_OF_FORCE.filter((sheet) => words.length && words.every((word) => sheet.words.has(word)));
  return found.slice(0, 3).map((sheet) => sheet.file + " has it and is " + sheet.state + ": torquary sheet " + sheet.quoted + " says why.");
}
function findWithout(question) {
  const notes = KINDS.flatMap((name) => sayDenied(question, name));
  let first = [], base = null;
  for (const [what, rest] of leaveOut(question)) {
    const reach = asksFor(rest) ? countReach(rest) : 0;
    if (reach > RULES.most_beside) {
      notes.push({ text: "Leave out " + what + ", and the question is for sheets with " + grouped(reach) + " settings", ask: rest });
      continue;
    }
    const rows = asksFor(rest) ? ask(rest) : [];
    if (!rows.length) continue;
    const named = listSome(rows.map((one) => one.row.terminal_printed));
    notes.push({ text: "Leave out " + what + ", and " + (rows.length === 1 ? "there is " : "there are ") + countOf(rows.length, "row") + " (" + named + ")", ask: rest });
    if (!first.length) [first, base] = [rows, rest];
  }
  return [notes, first, base];
}
function leaveOut(question) {
  const parts = partsOf(question), words = freeWords(question);
  const named = [TERMINAL, SIZE, RATING, ["family"], ["maker"], ["series"], ["purpose"]].filter((names) => names.some((name) => name in parts));
  const found = named.map((names) => [nameAsked(question, names), without(question, ...names)]);
  found.push(...words.map((word) => [quoted(word), withoutWords(question, [word])]));
  if (words.length > 1) found.push([quoted(question.words), without(question, "words")]);
  return found;
}
function nameAsked(question, names) {
  if (names === TERMINAL) return "the terminal " + quoted(question.terminal || nameRoles(question.roles) || namePart(question.part || ""));
  if (names === SIZE) return nameSize(question);
  if (names === RATING) return nameRating(question);
  return names[0] === "family" ? quoted(nameKind(question.family)) : names[0] + " " + quoted(question[names[0]]);
}
function sayDevice(question) {
  const device = without(question, ...TERMINAL, ...SIZE, ...KINDS), count = asksFor(device) ? ask(device).length : 0;
  const are = count === 1 ? "is known for another terminal or conductor" : "are known for other terminals or conductors";
  return count ? [{ text: countOf(count, "row") + " " + are, ask: device }] : [];
}
function sayDenied(question, name) {
  const rest = without(question, name);
  if (!given(question[name]) || !asksFor(rest)) return [];
  const rows = ask(rest).filter(fits);
  if (!rows.length) return [];
  const kinds = (value) => Array.isArray(value) ? value : given(value) ? [value === true ? "with ferrule" : value === false ? "without ferrule" : value] : [];
  const printed = listSome(rows.flatMap((one) => { const said = kinds(one.row[name]); return said.length ? said : ["no aluminium"]; }));
  return [{ text: countOf(rows.length, "row") + (rows.length === 1 ? " says " : " say ") + printed + ", not " + listSome(kinds(question[name])), ask: rest }];
}
