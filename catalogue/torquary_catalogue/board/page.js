const items = [...document.querySelectorAll("article[data-entry]")];
const KEY = one("work").dataset.key;
const foundOf = (item) => (item.querySelector("input[type=radio]:checked") || {}).value || "";
const doneOf = (item) => item.querySelector("[name=done]").checked;
const textOf = (item, name) => item.querySelector("[name=" + name + "]").value.trim();
const nameOf = (item) => { const entry = JSON.parse(item.dataset.entry); return entry.board + "\n" + entry.terminal; };
const local = (now) => new Date(now - now.getTimezoneOffset() * 60000).toISOString().slice(0, 16);

function entryOf(item) {
  const entry = JSON.parse(item.dataset.entry);
  entry.found = foundOf(item) || "not_checked";
  entry.done = doneOf(item);
  if (item.dataset.at) entry.at = item.dataset.at;
  for (const name of ["photo", "remark"]) if (textOf(item, name)) entry[name] = textOf(item, name);
  return entry;
}
const isFilled = (item) => Boolean(foundOf(item) || doneOf(item) || textOf(item, "photo") || textOf(item, "remark"));
function state() {
  const filled = items.filter(isFilled);
  return { torquary_work_record: 1, who: one("who").value.trim(), visit: one("visit").value, entries: filled.map(entryOf) };
}
function show() {
  for (const item of items) item.classList.toggle("done", doneOf(item));
  const found = items.filter(foundOf).length;
  one("done").textContent = found + " of " + items.length + " looked at, " + items.filter(doneOf).length + " set";
}
function keep() {
  show();
  try { localStorage.setItem(KEY, JSON.stringify(state())); } catch { one("fault").textContent = "This browser keeps nothing: save before you leave the page."; }
}
function put(record) {
  const by = new Map(record.entries.map((entry) => [entry.board + "\n" + entry.terminal, entry]));
  one("who").value = record.who || one("who").value;
  one("visit").value = record.visit || one("visit").value;
  let known = 0;
  for (const item of items) {
    const entry = by.get(nameOf(item));
    for (const radio of item.querySelectorAll("input[type=radio]")) radio.checked = Boolean(entry) && radio.value === entry.found;
    item.querySelector("[name=done]").checked = Boolean(entry && entry.done);
    for (const name of ["photo", "remark"]) item.querySelector("[name=" + name + "]").value = (entry && entry[name]) || "";
    if (entry && entry.at) item.dataset.at = entry.at; else delete item.dataset.at;
    known += entry ? 1 : 0;
  }
  return by.size - known;
}
function faultIn(record) {
  if (!record.entries.length) return "Nothing is entered yet.";
  if (!record.who) return "Say who does the work.";
  if (!record.visit) return "Say the day on which the work began.";
  const wrong = record.entries.find((entry) => entry.done && entry.found === "not_checked");
  return wrong ? "Say as what it was found: " + wrong.terminal : "";
}
one("save").addEventListener("click", () => {
  const record = state(), fault = faultIn(record);
  one("fault").textContent = fault;
  if (fault) return;
  saveFile("work-record-" + record.visit + ".json", record);
});
one("open").addEventListener("change", async (event) => {
  const file = event.target.files[0];
  if (!file) return;
  try {
    const record = JSON.parse(await file.text());
    if (record.torquary_work_record !== 1 || !Array.isArray(record.entries)) throw new Error("it is no record of work");
    const strange = put(record);
    one("fault").textContent = strange ? strange + " of its entries are for terminals that are not on this page." : "";
    keep();
  } catch (error) {
    one("fault").textContent = file.name + " cannot be opened: " + error.message;
  }
  event.target.value = "";
});
one("forget").addEventListener("click", () => {
  if (!confirm("Forget all that is entered on this page?")) return;
  put({ entries: [] });
  keep();
});
document.addEventListener("input", (event) => {
  const item = event.target.closest("article");
  if (item) item.dataset.at = local(new Date());
  one("fault").textContent = "";
  keep();
});
document.addEventListener("submit", (event) => event.preventDefault());
try {
  const kept = localStorage.getItem(KEY);
  if (kept) put(JSON.parse(kept));
} catch { one("fault").textContent = "What was entered here before cannot be read."; }
show();
