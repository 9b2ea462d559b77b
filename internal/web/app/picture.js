// The map as a picture to hand on, with the answer above it and the cautions below: whoever
// gets the picture alone gets those too.
import { s } from "./dom.js";

const LARGE = 3; // pixels of the picture for each of the map's units
const EDGE = 12, TEXT = 12, LINE = 16; // units of the map

// sheetOf is the picture as SVG: title and answer, the map, its legend of { kind, words },
// and the cautions under their heading.
export function sheetOf(map, { title, answer, legend, heading, cautions }) {
  const copy = map.cloneNode(true), { width, height } = map.viewBox.baseVal;
  copy.querySelector(".own")?.remove(); // where one stands is nobody's business but one's own
  const parts = [];
  let y = EDGE;
  const write = (text, bold) => {
    for (const line of wrapped(text, width - 2 * EDGE, bold)) {
      y += LINE;
      parts.push(s("text", { x: EDGE, y: y - 4, class: bold ? "said bold" : "said" }, line));
    }
    y += 4;
  };
  write(title, false);
  write(answer, true);
  for (const [name, value] of Object.entries({ x: 0, y, width, height })) copy.setAttribute(name, value);
  parts.push(copy);
  y += height + 4;
  for (const { kind, words } of legend) {
    const box = { x: EDGE, y: y + 3, width: 22, height: 13 }, sign = { treat: "lines", watch: "dots", unscouted: "crosses" }[kind];
    parts.push(kind === "week" ? s("path", { class: "week", d: `M${EDGE} ${y + 9}h22` }) : s("rect", { ...box, class: `zone ${kind}` }), sign ? s("rect", { ...box, fill: `url(#${sign})` }) : "", s("text", { x: EDGE + 28, y: y + LINE - 2, class: "said" }, words));
    y += LINE + 2;
  }
  y += 4;
  write(heading, true);
  cautions.forEach(line => write(line, false));
  const high = Math.ceil(y + EDGE);
  return s("svg", { xmlns: "http://www.w3.org/2000/svg", viewBox: `0 0 ${width} ${high}`, width: width * LARGE, height: high * LARGE }, s("style", {}, rulesOfMaps() + SAID), parts);
}

const FONT = "system-ui, sans-serif";
const SAID = ` .said { font: ${TEXT}px ${FONT}; fill: #000; } .bold { font-weight: 700; }`;

// wrapped parts a text into lines of a width.
function wrapped(text, width, bold) {
  const pen = document.createElement("canvas").getContext("2d"), lines = [""];
  pen.font = `${bold ? "700 " : ""}${TEXT}px ${FONT}`;
  for (const word of text.split(/\s+/)) {
    const longer = `${lines.at(-1)} ${word}`.trim();
    if (lines.at(-1) && pen.measureText(longer).width > width) lines.push(word);
    else lines[lines.length - 1] = longer;
  }
  return lines;
}

// pictureOf draws such a sheet to a file of PNG.
export async function pictureOf(map, words, name) {
  const sheet = sheetOf(map, words), width = Number(sheet.getAttribute("width")), height = Number(sheet.getAttribute("height"));
  const address = URL.createObjectURL(new Blob([new XMLSerializer().serializeToString(sheet)], { type: "image/svg+xml" }));
  try {
    const image = new Image();
    image.src = address;
    await image.decode();
    const canvas = Object.assign(document.createElement("canvas"), { width, height }), on = canvas.getContext("2d");
    on.fillStyle = "#fff";
    on.fillRect(0, 0, width, height);
    on.drawImage(image, 0, 0);
    const blob = await new Promise(done => canvas.toBlob(done, "image/png"));
    return new File([blob], name, { type: "image/png" });
  } finally {
    URL.revokeObjectURL(address);
  }
}

// rulesOfMaps are the page's own rules for maps, with the colours of zones.
export function rulesOfMaps() {
  const root = getComputedStyle(document.documentElement);
  const colours = ["--treat", "--watch", "--clear"].map(c => `${c}: ${root.getPropertyValue(c)};`).join(" ");
  const rules = [...document.styleSheets].flatMap(sheet => [...sheet.cssRules]).filter(r => r.selectorText?.startsWith(".map "));
  return `:root { ${colours} } ` + rules.map(r => r.cssText.replaceAll(".map ", "")).join(" ");
}
