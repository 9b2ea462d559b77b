// Dates that can be read both ways, day or month first, are asked for once, for all files.
import { h } from "../dom.js";
import { dayInWords } from "../words.js";
import { said } from "./words.js";

// ORDERS are the answers, as the setting has them.
const ORDERS = ["day-first", "month-first"];

// daysPart asks which day is meant; nothing where no date leaves it open.
export function daysPart(desk, open, changed) {
  const first = open?.[0];
  if (!first) return [];
  const answer = order => { desk.reading["date-order"] = order; changed(); };
  return h("fieldset", { class: "notice", id: "which-day" }, h("legend", {}, said("which-day", first)), h("p", {}, said("which-day-hint")),
    ORDERS.map(order => h("div", { class: "check" },
      h("input", { type: "radio", name: "date-order", id: order, checked: desk.reading["date-order"] === order, onchange: () => answer(order) }),
      h("label", { for: order }, dayInWords(first.days[order])))));
}

// openDays says whether a day is still to be told.
export const openDays = desk => Boolean(desk.checked?.open_days.length) && !desk.reading["date-order"];
