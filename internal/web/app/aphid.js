// Drawings of our own: an aphid from above by its marks, and where on the plant it sits.
// They are on white in the dark too, as pale and dark are what tells. A mark that is not
// given is drawn in outline.
import { s } from "./dom.js";

const BODY = "#ece7b6", DARK = "#111", LINE = "#444", RED = "#c2410c", GREEN = "#3f6b24";

// aphid draws one that shows answers by the names of marks, such as { feet: "dark" }. label
// is what a screen reader says; without one the drawing is but an ornament.
export function aphid(shows, label = "") {
  return s("svg", { viewBox: "0 0 100 100", class: "aphid", role: label ? "img" : null, "aria-label": label || null, "aria-hidden": label ? null : "true" },
    s("rect", { width: 100, height: 100, fill: "#fff" }), limbs(shows), cornicles(shows.cornicles),
    s("path", { d: "M50 24C66 24 73 44 72 58C71 76 60 85 50 85C40 85 29 76 28 58C27 44 34 24 50 24Z", fill: shows.colour === "yellow" ? "#f7e733" : BODY, stroke: LINE, "stroke-width": 2 }),
    s("path", { d: "M50 85L46 93H54Z", fill: BODY, stroke: LINE, "stroke-width": 1.5 }),
    patch(shows.patch), stripe(shows.stripe), head(shows.head), shows.spines === "yes" ? spines() : null);
}

// ends are the last parts of legs and antennae: dark, or pale with a line round them.
const ends = (d, kind) => [s("path", { d, fill: "none", stroke: kind === "dark" ? DARK : LINE, "stroke-width": 5, "stroke-linecap": "round" }),
  kind === "dark" ? null : s("path", { d, fill: "none", stroke: kind === "pale" ? BODY : "#fff", "stroke-width": 2.6, "stroke-linecap": "round" })];

function limbs({ feet, antennae }) {
  const legs = s("path", { d: "M34 38L20 32M66 38L80 32M30 52L13 54M70 52L87 54M32 66L18 76M68 66L82 76M44 20L36 12M56 20L64 12", fill: "none", stroke: LINE, "stroke-width": 2.5 });
  return [legs, ends("M20 32L13 25M80 32L87 25M13 54L5 60M87 54L95 60M18 76L13 86M82 76L87 86", feet), ends("M36 12L22 5M64 12L78 5", antennae)];
}

// cornicles are the two tubes at the rear end.
function cornicles(kind) {
  const tube = side => {
    const x = 50 + side * 16, d = `M${x} 74L${x + side * 9} 92`, tip = `M${x + side * 6} 86L${x + side * 9} 92`;
    return [s("path", { d, stroke: kind === "dark" ? DARK : LINE, "stroke-width": 7, "stroke-linecap": "butt" }),
      kind === "dark" ? null : s("path", { d, stroke: kind ? BODY : "#fff", "stroke-width": 4 }),
      kind === "tip" ? s("path", { d: tip, stroke: DARK, "stroke-width": 7 }) : null];
  };
  return [tube(-1), tube(1)];
}

const patch = kind => kind === "red" || kind === "dark" ? [-1, 1].map(side => s("ellipse", { cx: 50 + side * 14, cy: 70, rx: 7.5, ry: 8.5, fill: kind === "red" ? RED : "#333" })) : null;

const stripe = kind => kind === "yes" ? s("path", { d: "M50 34V80", stroke: GREEN, "stroke-width": 6 }) : null;

const head = kind => s("path", { d: "M40 28C40 16 60 16 60 28C56 32 44 32 40 28Z", fill: kind === "dark" ? "#222" : BODY, stroke: LINE, "stroke-width": 2 });

const spines = () => s("path", { d: Array.from({ length: 26 }, (_, i) => {
  const t = 2 * Math.PI * i / 26, c = Math.cos(t), n = Math.sin(t), at = (a, b) => `${(50 + a * c).toFixed(1)} ${(56 + b * n).toFixed(1)}`;
  return `M${at(20, 26)}L${at(29, 36)}M${at(9, 12)}L${at(14, 19)}`;
}).join(""), stroke: DARK, "stroke-width": 1.2, fill: "none" });

// site draws where on the plant they sit: the whorl, the underside of a leaf, the head.
function site(kind) {
  const ring = { whorl: [50, 22], leaf: [74, 52], head: [50, 18] }[kind];
  return s("svg", { viewBox: "0 0 100 100", class: "aphid", "aria-hidden": "true" }, s("rect", { width: 100, height: 100, fill: "#fff" }),
    s("path", { d: "M50 96V30M50 80C30 62 20 66 10 78M50 64C70 46 80 50 90 62", fill: "none", stroke: LINE, "stroke-width": 3 }),
    kind === "head" ? s("path", { d: "M50 34C38 30 40 12 50 6C60 12 62 30 50 34Z", fill: BODY, stroke: LINE, "stroke-width": 2 }) : s("path", { d: "M50 34C44 22 40 14 34 8M50 34C56 22 60 14 66 8M50 34V8", fill: "none", stroke: LINE, "stroke-width": 3 }),
    s("circle", { cx: ring[0], cy: ring[1], r: 15, fill: "none", stroke: DARK, "stroke-width": 2.5, "stroke-dasharray": "5 3" }));
}

// spotted draws a leaf with red spots, or without.
const spotted = kind => s("svg", { viewBox: "0 0 100 100", class: "aphid", "aria-hidden": "true" }, s("rect", { width: 100, height: 100, fill: "#fff" }),
  s("path", { d: "M8 88C20 40 50 14 92 10C84 54 54 84 8 88Z", fill: "#b9d39a", stroke: LINE, "stroke-width": 2 }), s("path", { d: "M8 88L92 10", stroke: LINE, "stroke-width": 1.5 }),
  kind === "yes" ? [[40, 46], [60, 30], [52, 62], [72, 40], [34, 70]].map(([x, y]) => s("circle", { cx: x, cy: y, r: 5, fill: RED, stroke: DARK })) : null);

// drawnAnswer is the drawing of one answer to a mark.
export function drawnAnswer(mark, answer) {
  if (mark === "place") return site(answer);
  if (mark === "spots") return spotted(answer);
  return aphid({ [mark]: answer });
}
