const find = (selector, within = document) => [...within.querySelectorAll(selector)];
const items = find("article"), questions = find("form.question"), all = [...questions, ...items];
const KEY = document.body.dataset.key;
const verdictOf = (item) => item.querySelector("input[type=radio]:checked").value;
const fieldsOf = (item) => find("[name]:not([type=radio])", item);
const NUMBER = "\\d+(?:[.,]\\d+)?";
const RANGE = "(?:" + NUMBER + "\\s*(?:-|–|—|…|to|±|\\+/-)\\s*)?" + NUMBER;
const GAUGE = "\\d+(?:/0)?(?:\\s*(?:-|–|to)\\s*\\d+(?:/0)?)?";
const UNITS = JSON.parse(document.body.dataset.units);
const escaped = (text) => text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
const UNIT = "(?:" + UNITS.map(escaped).join("|") + ")";
const FORMS = {
  torque: [new RegExp("^(?:(?:max\\.?|≤|<=)\\s*)?" + RANGE + "\\s*" + UNIT + "$", "i"), "a figure or range with its unit, like 2.5 Nm"],
  unit: [new RegExp("^" + UNIT + "$", "i"), "a unit of torque, like N·m or lbf·in"],
  conductor: [new RegExp("^(?:\\d+\\s*[x×]\\s*)?(?:(?:up to|≤)\\s*)?(?:" + RANGE + "\\s*(?:mm²|mm2)|" + GAUGE + "\\s*AWG|AWG\\s*" + GAUGE
    + "|" + NUMBER + "(?:\\s*(?:-|–|to)\\s*" + NUMBER + ")?\\s*(?:kcmil|MCM))$", "i"), "a size with its unit, like 1.5–6 mm² or 14–10 AWG"],
  drive: [/^(?:(?:PZ|PH|PZD|PHD|TX|T|SW|HEX|SL)\s*\d+(?:[.,]\d+)?(?:\s*mm)?|(?:slot\s*|SL\s*)?\d+(?:[.,]\d+)?\s*[x×]\s*\d+(?:[.,]\d+)?(?:\s*mm)?|[-–—])$/i,
    "a driver bit, like PZ 2, 0.8 x 4 or hex 4 mm; a dash for none"],
};
const MAY_BE_THOUSANDS = /\d[.,]\d{3}(?!\d)/;

function faultIn(input) {
  const text = input.value.trim(), form = FORMS[input.name];
  if (!text || !form) return "";
  if (input.name === "torque" && MAY_BE_THOUSANDS.test(text)) return "The mark may be a decimal or a thousands mark: write one or two digits behind it.";
  return form[0].test(text) ? "" : "Write " + form[1] + ".";
}
function check(input) {
  const note = input.closest("label").nextElementSibling, fault = faultIn(input);
  if (note && note.classList.contains("note")) note.textContent = fault;
  if (fault) input.setAttribute("aria-invalid", "true"); else input.removeAttribute("aria-invalid");
  return fault;
}
function show(item) {
  const verdict = verdictOf(item), fields = item.querySelector(".fields");
  if (fields) fields.hidden = !["correct", "answer"].includes(verdict);
  item.classList.toggle("done", verdict !== "leave");
}
function count() {
  const covered = new Set();
  for (const question of questions) if (verdictOf(question) !== "leave") for (const id of reachOf(question)) covered.add(id);
  const done = items.filter((item) => verdictOf(item) !== "leave" || covered.has(item.dataset.id)).length;
  one("count").textContent = done + " of " + items.length + " decided or answered";
  for (const item of items) item.querySelector(".covered").hidden = !covered.has(item.dataset.id);
}
function reachOf(question) {
  const chosen = question.querySelector("[name=reach]");
  return JSON.parse(chosen.selectedOptions[0].dataset.ids);
}
function filter() {
  const words = one("search").value.toLowerCase().split(/\s+/).filter(Boolean), cause = one("cause").value;
  const undecided = one("open-only").checked;
  for (const group of find("section")) {
    let seen = 0;
    for (const item of find("article", group)) {
      const text = item.dataset.text;
      item.hidden = !(words.every((word) => text.includes(word)) && (!undecided || verdictOf(item) === "leave"));
      seen += !item.hidden;
    }
    group.hidden = (cause && group.dataset.cause !== cause) || !seen;
  }
}
function choose(item, value) {
  const radio = item.querySelector('input[type=radio][value="' + value + '"]');
  if (!radio || radio.disabled) {
    one("fault").textContent = item.dataset.why || "";
    return;
  }
  one("fault").textContent = "";
  radio.checked = true;
  changed(item);
  if (value === "correct") item.querySelector(".fields input").focus(); else step(item, 1);
}
function step(item, by) {
  const shown = items.filter((each) => !each.hidden && !each.closest("section").hidden);
  const next = shown[shown.indexOf(item) + by];
  if (next) next.focus();
}
function changed(item) { show(item); count(); keep(); }

// What is typed stays in this browser: a reload, or a page written anew, loses nothing.
function stateOf(item) {
  const values = {};
  for (const field of fieldsOf(item)) {
    const value = field.type === "checkbox" ? field.checked : field.value;
    if (value !== (field.type === "checkbox" ? field.defaultChecked : initial(field))) values[nameOf(field)] = value;
  }
  return { verdict: verdictOf(item), values: values };
}
const LISTS = ["conditions", "as_read"];
const nameOf = (field) => field.name + (LISTS.includes(field.name) ? ":" + field.value : "");
const initial = (field) => field.tagName === "SELECT" ? (find("option[selected]", field)[0] || field.options[0]).value : field.defaultValue;
function apply(item, state) {
  const radio = item.querySelector('input[type=radio][value="' + state.verdict + '"]');
  if (radio && !radio.disabled) radio.checked = true;
  for (const field of fieldsOf(item)) {
    const value = (state.values || {})[nameOf(field)];
    if (value === undefined) continue;
    if (field.type === "checkbox") field.checked = value; else field.value = value;
    check(field);
  }
  show(item);
}
function keep() {
  const told = { who: one("who").value, why: one("why").value, items: {} };
  for (const item of all) {
    const state = stateOf(item);
    if (state.verdict !== "leave" || Object.keys(state.values).length) told.items[item.dataset.key] = state;
  }
  try { localStorage.setItem(KEY, JSON.stringify(told)); } catch (error) { one("fault").textContent = "This browser keeps nothing: save before you leave the page."; }
}
function restore(told) {
  one("who").value = told.who || "";
  one("why").value = told.why || "";
  for (const item of all) if (told.items[item.dataset.key]) apply(item, told.items[item.dataset.key]);
  count();
}

function read(item) {
  const verdict = verdictOf(item), given = {};
  if (verdict !== "correct" && verdict !== "answer") return given;
  for (const field of fieldsOf(item)) {
    if (field.name === "reach" || LISTS.includes(field.name)) continue;
    if (field.type === "checkbox") { if (field.checked) given[field.name] = true; continue; }
    const text = field.value.trim(), same = field.tagName === "SELECT" && verdict === "correct" && text === initial(field);
    if (!text || same) continue;
    if (check(field)) { reveal(field); throw new Error(check(field)); }
    given[field.name] = text;
  }
  const right = find("[name=as_read]:checked", item).map((tick) => tick.value);
  if (right.length) given.as_read = right;
  const ticks = find("[name=conditions]", item);
  if (ticks.some((tick) => tick.checked !== tick.defaultChecked)) {
    const keys = ticks.filter((tick) => tick.checked).map((tick) => tick.value);
    given.conditions = keys.length ? keys : ["-"];
  }
  return given;
}
function reveal(field) {
  const item = field.closest("article, form");
  item.hidden = false;
  item.closest("section").hidden = false;
  field.focus();
}
function collect() {
  const who = one("who").value.trim(), why = one("why").value.trim();
  if (!who || !why) { one(who ? "why" : "who").focus(); throw new Error("Say who decides and why."); }
  const decisions = [];
  for (const item of all) {
    const verdict = verdictOf(item);
    if (verdict === "leave") continue;
    const given = read(item), decision = { id: item.dataset.id, verdict: verdict, printed: JSON.parse(item.dataset.printed) };
    if (item.matches("form")) decision.reach = item.querySelector("[name=reach]").value;
    const blank = find("[data-wanted]", item).find((input) => !input.value.trim());
    if (verdict === "correct" && blank) { reveal(blank); throw new Error("Write the " + blank.name + " as it is printed: nothing proves which it is."); }
    if (["correct", "answer"].includes(verdict) && !Object.keys(given).length) {
      reveal(item.querySelector(".fields input, .fields select"));
      throw new Error("Write what is right, or choose another way.");
    }
    decisions.push({ ...decision, ...given });
  }
  if (!decisions.length) throw new Error("Nothing is decided yet.");
  return { torquary_decisions: 1, who: who, why: why, decisions: decisions };
}
function open(record) {
  const told = { who: record.who, why: record.why, items: {} };
  let strange = 0;
  for (const decision of record.decisions) {
    const isMany = "reach" in decision;
    const item = (isMany ? questions : items).find((each) => each.dataset.id === decision.id && (!isMany || matches(each, decision)));
    if (!item) { strange += 1; continue; }
    const { id, verdict, printed, why, ...values } = decision;
    for (const name of LISTS.filter((list) => list in values)) {
      for (const tick of find("[name=" + name + "]", item)) values[name + ":" + tick.value] = values[name].includes(tick.value);
      delete values[name];
    }
    told.items[item.dataset.key] = { verdict: verdict, values: values };
  }
  restore(told);
  keep();
  one("fault").textContent = strange ? strange + " decision(s) of the file are about readings that are not held any more." : "";
}
// A reading may stand first in several questions: the one that has the fields which were answered.
const matches = (question, decision) => Object.keys(decision).filter((name) => question.querySelector('[name="' + name + '"]')).length
  >= Object.keys(decision).filter((name) => !["id", "verdict", "printed", "why"].includes(name)).length;

for (const item of all) {
  item.addEventListener("change", () => changed(item));
  item.addEventListener("input", (event) => { if (event.target.matches("input[type=text]")) check(event.target); keep(); });
  item.addEventListener("submit", (event) => event.preventDefault());
  show(item);
}
for (const id of ["who", "why"]) one(id).addEventListener("input", keep);
for (const id of ["search", "cause", "open-only"]) one(id).addEventListener("input", filter);
document.addEventListener("keydown", (event) => {
  const item = event.target.closest("article");
  if (!item || event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.target.matches("input[type=text]")) { if (event.key === "Enter") { step(item, 1); event.preventDefault(); } return; }
  if (event.target !== item && event.target.matches("select, summary, a")) return;
  const verdict = { a: "accept", c: "correct", r: "reject", l: "leave" }[event.key.toLowerCase()];
  const by = { ArrowDown: 1, ArrowUp: -1 }[event.key];
  if (!verdict && !by) return;
  event.preventDefault();
  if (verdict) choose(item, verdict); else step(item, by);
});
one("save").addEventListener("click", () => {
  one("fault").textContent = "";
  try {
    saveFile("decisions.json", collect());
  } catch (error) { one("fault").textContent = error.message; }
});
one("open").addEventListener("change", async (event) => {
  try { open(JSON.parse(await event.target.files[0].text())); } catch (error) { one("fault").textContent = "The file cannot be read: " + error.message; }
  event.target.value = "";
});
one("forget").addEventListener("click", () => { localStorage.removeItem(KEY); location.reload(); });
try { restore(JSON.parse(localStorage.getItem(KEY)) || { items: {} }); } catch (error) { count(); }
