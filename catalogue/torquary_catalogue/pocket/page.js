// The page itself: what is typed is asked, and the answer laid out. All text gets on to it as text.
const UNSEEN = new RegExp(RULES.unseen, "gu");
const visible = (text) => String(text).replace(/(?:\r\n|[ \t\n])+/g, " ")
  .replace(UNSEEN, (sign) => "<U+" + sign.codePointAt(0).toString(16).toUpperCase().padStart(4, "0") + ">");
function put(name, text, ...parts) {
  const element = document.createElement(name);
  if (text) element.textContent = visible(text);
  element.append(...parts);
  return element;
}
function putButton(text, deed) {
  const button = put("button", text);
  button.type = "button";
  button.addEventListener("click", deed);
  return button;
}
function putLines(lines) {
  const list = document.createElement("dl");
  for (const [name, text] of lines) list.append(put("dt", name), put("dd", text));
  return list;
}
function putBlock(block, small) {
  const article = document.createElement("article");
  if (block.large) article.append(Object.assign(put("p", block.large), { className: small ? "figure" : "large figure" }));
  article.append(putLines(block.lines));
  const png = DATA.pictures[block.row.at];
  if (png) article.append(Object.assign(document.createElement("img"), { src: "data:image/png;base64," + png, alt: "the printed row, the torque outlined" }));
  return article;
}
function putNote(note) {
  const line = put("p", note.text || note);
  if (note.ask) line.append(" ", putButton("ask so", () => show(note.ask)));
  return line;
}
const add = (words) => { one("words").value = (one("words").value + " " + words).trim(); askTyped(); };
// A name is added to what was understood as it is printed, and not read once more; sizes are not looked for in names.
function putChoice(choice, question) {
  const text = choice.name + " (" + countOf(choice.count, "row") + ")";
  if (!question) return putButton(text, () => add(choice.name));
  if (choice.what === "conductor") return put("p", text);
  return putButton(text, () => show({ ...question, words: [...freeWords(question), ...foldWords(choice.name)].join(" ") }));
}
const retype = (words) => { one("words").value = words; askTyped(); };

function lay(answer, everyRow) {
  const notice = noticeOf(answer, everyRow), parts = [];
  parts.push(Object.assign(put("h2", notice.headline), { id: "headline" }));
  if (notice.asked) parts.push(Object.assign(put("p", "taken as: " + notice.asked), { className: "small" }));
  if (isPast()) parts.push(Object.assign(put("p", sayPast()), { className: "warn" }));
  parts.push(...notice.said_first.map((said) => Object.assign(put("p", said), { className: "first" })));
  if (notice.same.length) parts.push(put("p", "For all of them:"), putLines(notice.same));
  parts.push(...notice.blocks.map((block) => putBlock(block, notice.small)));
  if (notice.unseen) parts.push(putButton("show " + notice.unseen + " more", () => lay(answer, true)));
  parts.push(...notice.notes.map(putNote));
  parts.push(...notice.offers.map((offer) => putButton("did you mean: " + offer.words, () => retype(offer.words))));
  if (notice.choices.length) parts.push(put("p", "Say which " + notice.choices[0].what + ":"));
  const most = everyRow ? notice.choices.length : 8;
  parts.push(...notice.choices.slice(0, most).map((choice) => putChoice(choice, notice.choices_of)));
  if (notice.choices.length > most) parts.push(putButton("and " + (notice.choices.length - most) + " more", () => lay(answer, true)));
  one("answer").replaceChildren(...parts);
}
function show(question) {
  try {
    lay(answerTo(question), false);
  } catch (fault) {
    if (!(fault instanceof Fault)) throw fault;
    one("answer").replaceChildren(Object.assign(put("p", fault.message), { className: "warn" }));
  }
}
function askTyped() {
  let question;
  try { question = readQuestion(one("words").value); } catch (fault) {
    if (!(fault instanceof Fault)) throw fault;
    one("answer").replaceChildren(Object.assign(put("p", fault.message), { className: "warn" }));
    return;
  }
  show(question);
}

// Past its stated life, or where the clock is before the day it was made, the page asks before it answers.
const DAY = 86400000, made = Date.parse(DATA.made_on + "T00:00:00"), ends = made + (DATA.good_for + 1) * DAY;
let isAgreed = false;
const isPast = (now = Date.now()) => now >= ends || now < made - DAY;
const sayPast = () => Date.now() < made
  ? "By the clock of this device the page is not made yet: it cannot be told whether it is still good."
  : "This page was made on " + DATA.made_on + " for " + countOf(DATA.good_for, "day") + ", which are over: a sheet may have changed since.";
function guard(deed) {
  if (!isPast() || isAgreed) return deed();
  one("past-said").textContent = sayPast() + " Get a new page from those who gave it out.";
  one("past").hidden = false;
  one("agree").focus();
  one("agree").onclick = () => { isAgreed = true; one("past").hidden = true; deed(); };
}
// A plan has figures too: it opens as an answer is given.
const plan = one("plan");
if (plan) plan.addEventListener("click", (event) => {
  if (plan.open || !event.target.closest("summary") || !isPast() || isAgreed) return;
  event.preventDefault();
  guard(() => { plan.open = true; });
});
one("ask").addEventListener("submit", (event) => { event.preventDefault(); guard(askTyped); });
one("wait").hidden = true;
