// Before: which field, which rule at which stage, and so what to count; then the walk. Its
// parts are modules of their own.
import { button, h } from "../dom.js";
import { ready } from "../engine.js";
import { canLocate } from "../locator.js";
import { counted } from "../walk.js";
import { say, speak, spoken } from "../words.js";
import { chosenField, fieldPart } from "./before-field.js";
import { morePart } from "./before-more.js";
import { rulePart } from "./before-rule.js";
import { startPart } from "./before-start.js";
import { walksPart } from "./before-walks.js";

export function before(app) {
  const parts = { kept: h("p", { class: "quiet" }), what: h("div", { id: "what", role: "status" }), engine: h("p", { class: "quiet", role: "status", id: "engine-said" }) };
  const field = chosenField(app), redo = () => again(app);
  const update = what => {
    if (what === "kept") parts.kept.textContent = say(app.kept === "kept" ? "kept" : "maybe-kept");
    else again(app);
  };
  update("kept");
  parts.engine.textContent = say("engine-loading");
  ready.then(() => { parts.engine.textContent = ""; }, () => { parts.engine.textContent = say("engine-failed", { why: app.failed }); });
  const element = [
    h("header", { class: "top" }, h("h1", {}, say("before")), languages(app)),
    h("p", { class: "promise" }, say("promise")), trouble(), goOn(app),
    fieldPart(app, field, redo),
    field ? rulePart(app, field, parts.what, redo) : null,
    field ? morePart(app, field, redo) : null,
    field ? startPart(app, field) : null,
    walksPart(app), h("div", { class: "stack" }, button(say("eye"), () => app.go("eye"), { id: "eye" }), button(say("key"), () => app.go("key"), { id: "key" })), parts.kept, parts.engine,
  ];
  return { element, update };
}

// again shows the screen anew after a choice, with the focus where it was; nothing where
// another screen is shown by then.
function again(app) {
  if (app.shown.name !== "before") return;
  const id = document.activeElement?.id, y = scrollY;
  const { element, update } = before(app);
  document.getElementById("screen").replaceChildren(...element.filter(Boolean));
  app.shown.update = update;
  if (id) document.getElementById(id)?.focus({ preventScroll: true });
  scrollTo(0, y);
}

// languages switches the language of the page.
function languages(app) {
  const one = (code, name) => button(name, async () => {
    speak(code);
    await app.keep(() => ({ kind: "set", values: { language: code } }));
    again(app);
    document.title = say("before");
  }, { lang: code, id: `speak-${code}`, "aria-pressed": String(spoken() === code) });
  return h("div", { class: "row", role: "group", "aria-label": say("language") }, one("en", "English"), one("es", "Español"));
}

// trouble says what the phone will not do here.
function trouble() {
  if (canLocate() && !onApple()) return null;
  const why = onApple() ? "iphone-file" : isSecureContext ? "no-position" : "insecure";
  return h("p", { class: "wrong" }, say(why));
}

const onApple = () => location.protocol === "file:" && /iPhone|iPad/.test(navigator.userAgent);

function goOn(app) {
  const w = app.walk();
  if (!w || w.ended) return null;
  const name = app.state.fields.get(w.field)?.name ?? "";
  return h("section", { class: "notice" }, h("p", {}, say("open-walk", { field: name, n: counted(w).length })), button(say("go-on"), () => app.go(w.open ? "count" : "walk"), { class: "main wide", id: "go-on" }));
}
