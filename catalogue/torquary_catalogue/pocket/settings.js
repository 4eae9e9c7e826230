// The settings of the page as rows, in the order in which answers give them, and the words that they print.
const DATA = JSON.parse(one("data").textContent);
const RULES = DATA.rules;
const ROWS = unpack(DATA.columns);
const PRINTED = new Set(), SHEETS = gatherWords();
const LIMITS = ROWS.filter((row) => row.is_limit_for_all && row.state === "released" && row.purpose === "electrical_terminal")
  .sort((a, b) => inTurn(a.file, b.file) || (a.page ?? Infinity) - (b.page ?? Infinity) || a.at - b.at);
const OUT_OF_FORCE = RULES.out_of_force.map((sheet) => ({ ...sheet, words: new Set(sheet.words) }));

function inTurn(a, b) { return a < b ? -1 : a > b ? 1 : 0; }
function unpack(columns) {
  const names = Object.keys(columns), rows = columns[names[0]].at.map((_, at) => ({ at: at, shown: {} }));
  for (const name of names) {
    const { values, at } = columns[name], shown = name.startsWith("shown_") ? name.slice(6) : "";
    rows.forEach((row, number) => { (shown ? row.shown : row)[shown || name] = values[at[number]]; });
  }
  for (const row of rows) for (const end of ["min", "max"]) row[end + "_area"] = row[end + "_mm2"] === null ? null : exactArea(row[end + "_mm2"]);
  return rows;
}
// Areas are exact: square millimetres with 24 decimals, as the catalogue has them.
function exactArea(text) {
  const [whole, part = ""] = text.split(".");
  return BigInt(whole + part.slice(0, 24).padEnd(24, "0"));
}
function gatherWords() {
  const sheets = new Map();
  for (const row of ROWS) {
    if (!sheets.has(row.sheet)) sheets.set(row.sheet, { words: new Set(), count: 0 });
    const sheet = sheets.get(row.sheet);
    sheet.count += 1;
    for (const word of [...row.all_words.split(" "), ...row.says || []]) { sheet.words.add(word); PRINTED.add(word); }
  }
  return [...sheets.values()];
}
