// Comfort only; every page works without it. A half-typed form outlives sleep and reload, and Enter, which is how a
// caliper that types ends a reading, goes to the next field instead of sending the form.
"use strict";

const PLACE = "trued.procedure.";

function store() {
  try { return window.localStorage; } catch { return null; }
}

function snapshot(form) {
  return [...new FormData(form)].filter(([, value]) => typeof value === "string");
}

function remember(form) {
  const kept = store();
  if (!kept) return;
  try { kept.setItem(PLACE + form.dataset.keep, JSON.stringify(snapshot(form))); } catch { /* full: nothing is lost but comfort */ }
}

function restore(form) {
  const kept = store();
  const text = kept && kept.getItem(PLACE + form.dataset.keep);
  if (!text) return;
  let pairs;
  try { pairs = JSON.parse(text); } catch { return; }
  const values = new Map();
  for (const [name, value] of pairs) values.set(name, [...(values.get(name) || []), value]);
  const fixture = (values.get("fixture") || [""])[0];
  if (form.elements.fixture && form.elements.fixture.value !== fixture) return;
  const seen = new Map();
  for (const field of form.elements) {
    const mine = values.get(field.name);
    if (!field.name || !mine || field.type === "submit") continue;
    if (field.type === "radio") { field.checked = mine.includes(field.value); continue; }
    const place = seen.get(field.name) || 0;
    seen.set(field.name, place + 1);
    if (place < mine.length) field.value = mine[place];
  }
}

function next(form, field) {
  const fields = [...form.querySelectorAll("input[type=text]")].filter((each) => each.offsetParent !== null);
  const after = fields.slice(fields.indexOf(field) + 1);
  const target = after.find((each) => !each.value) || after[0] || form.querySelector("button.main");
  if (target) { target.focus(); target.scrollIntoView({ block: "center" }); }
}

for (const form of document.querySelectorAll("form[data-keep]")) {
  if (!("comeBack" in form.dataset)) restore(form);
  form.addEventListener("input", () => remember(form));
  form.addEventListener("submit", () => remember(form));
  form.addEventListener("keydown", (event) => {
    const field = event.target;
    if (event.key !== "Enter" || field.tagName !== "INPUT" || field.type !== "text" || event.isComposing) return;
    event.preventDefault(); // a second Enter lands in the next, empty field and does nothing there
    if (field.value.trim() && !event.repeat) next(form, field);
  });
}

// The run was kept: its form begins anew.
const kept = document.body.dataset.kept;
if (kept && store()) {
  const text = store().getItem(PLACE + kept) || "[]";
  if (text.includes(document.body.dataset.run)) store().removeItem(PLACE + kept);
}

// The camera brought the code behind the #, which is never sent: it is put into its field and out of the address.
const pair = document.querySelector("form[data-pair]");
const code = /^#([0-9a-f]{32})$/.exec(location.hash);
if (pair && code) {
  pair.elements.code.value = code[1];
  pair.querySelector("[data-figures]").hidden = true;
  history.replaceState(null, "", location.pathname);
  pair.elements.name.focus();
}
