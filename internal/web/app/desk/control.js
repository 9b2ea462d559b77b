// Controls of forms that keep what is typed where it belongs.
import { h, labelled } from "../dom.js";

let last = 0;

// field is an input under its words; put(text) takes what was typed.
export function field(words, value, put, { hint, ...more } = {}) {
  return labelled(words, h("input", { type: "text", autocomplete: "off", spellcheck: "false", value: value ?? "", onchange: e => put(e.target.value.trim()), ...more }), hint);
}

// pick is a choice of [value, words] under its words.
export function pick(words, options, value, put, more = {}) {
  return labelled(words, h("select", { onchange: e => put(e.target.value), ...more }, options.map(([v, text]) => h("option", { value: v, selected: v === (value ?? "") }, text))));
}

// tick is a choice of yes or no.
export function tick(words, value, put, more = {}) {
  const id = more.id ?? `tick-${++last}`;
  return h("div", { class: "check" }, h("input", { type: "checkbox", checked: Boolean(value), onchange: e => put(e.target.checked), ...more, id }), h("label", { for: id }, words));
}

// numberIn is a number as it is typed here and there: with a decimal comma too; NaN where
// it is none, undefined where nothing was typed.
export function numberIn(text) {
  if (text === "") return undefined;
  return /^[+-]?\d*[.,]?\d+$/.test(text) ? Number(text.replace(",", ".")) : NaN;
}
