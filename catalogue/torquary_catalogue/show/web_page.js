"use strict";
const one = (id) => document.getElementById(id);
// Saves a value as a JSON file, by the browser's own way of saving.
function saveFile(name, value) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([JSON.stringify(value, null, 1) + "\n"], { type: "application/json" }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 1000);
}
