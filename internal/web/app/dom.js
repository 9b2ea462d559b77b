// Elements of HTML and SVG in short.

const SVG = "http://www.w3.org/2000/svg";

// h is an element: properties that begin with "on" are listeners, null ones are left out.
export const h = (name, properties = {}, ...children) => fill(document.createElement(name), properties, children);

// s is an element of SVG.
export const s = (name, properties = {}, ...children) => fill(document.createElementNS(SVG, name), properties, children);

function fill(element, properties, children) {
  for (const [key, value] of Object.entries(properties)) {
    if (value === null || value === undefined || value === false) continue;
    if (key.startsWith("on")) element.addEventListener(key.slice(2), value);
    else if (key === "value") element.value = value;
    else element.setAttribute(key, value === true ? "" : value);
  }
  element.append(...children.flat(Infinity).filter(c => c !== null && c !== undefined && c !== false));
  return element;
}

// button is one that does something, by its words.
export const button = (words, act, properties = {}) => h("button", { type: "button", onclick: act, ...properties }, words);

// labelled is a control under its words.
export function labelled(words, control, hint) {
  return h("label", { class: "control" }, h("span", {}, words), control, hint ? h("small", {}, hint) : null);
}
