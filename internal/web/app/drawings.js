// Drawings of our own: a sorghum plant at its stages, with the two leaves to look at. Which
// leaves those are is the rule's source's to say; the drawing follows its words.
import { s } from "./dom.js";

const WIDE = 120, HIGH = 170, LEAVES = 6;

// plant draws a plant at a stage; leaves named in marked, "lower" and "upper", stand out.
// label is what a screen reader says; without one the drawing is but an ornament.
export function plant(stage, marked, label) {
  const flag = stage !== "pre-boot"; // the last leaf below the head is out
  const lower = 1, upper = flag ? LEAVES - 2 : LEAVES - 1; // 0 is the lowest, which has dried
  const leaves = Array.from({ length: LEAVES }, (_, i) => {
    const kind = i === 0 ? "dry" : marked.includes("lower") && i === lower || marked.includes("upper") && i === upper ? "look" : "";
    return s("path", { class: `blade ${kind}`, d: blade(i) });
  });
  return s("svg", { viewBox: `0 0 ${WIDE} ${HIGH}`, class: "plant", role: label ? "img" : null, "aria-label": label || null, "aria-hidden": label ? null : "true" },
    s("path", { class: "stalk", d: `M60 ${HIGH - 6}V48` }), leaves, head(stage));
}

// blade is the leaf at place i from below: left and right by turns, shorter toward the top.
function blade(i) {
  const y = HIGH - 28 - 17 * i, side = i % 2 ? 1 : -1, long = 50 - 3 * i, x = 60;
  return `M${x} ${y}C${x + side * 0.4 * long} ${y - 24} ${x + side * 0.8 * long} ${y - 22} ${x + side * long} ${y + 4}C${x + side * 0.7 * long} ${y - 12} ${x + side * 0.35 * long} ${y - 10} ${x} ${y + 6}Z`;
}

// head is what stands on top: a rolled leaf, the swollen sheath, the open or the heavy head.
function head(stage) {
  switch (stage) {
    case "pre-boot": return s("path", { class: "stalk", d: "M60 48L57 26" });
    case "boot": return s("path", { class: "top", d: "M60 50C52 40 54 26 60 16C66 26 68 40 60 50Z" });
    case "bloom to milk": return [s("path", { class: "stalk", d: "M60 48V12M60 40L50 28M60 40L70 28M60 32L51 20M60 32L69 20M60 24L54 12M60 24L66 12" })];
    default: return s("path", { class: stage === "black layer" ? "top ripe" : "top heavy", d: "M60 44C46 40 46 16 60 6C74 16 74 40 60 44Z" });
  }
}
