// A drawn leaf with invented insects on it, for the eye to learn from. The same for a
// number of the series on every phone.
import { s } from "./dom.js";

const LONG = 1000, WIDE = 420, MIDDLE = WIDE / 2;
const GROWN = 1.8; // insects are drawn larger than life beside the leaf, to be seen on a phone

// randomOf is a small generator of random numbers (mulberry32), the same for a seed everywhere.
export function randomOf(seed) {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6D2B79F5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

const normal = random => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

// halfWidth of the blade at a part t of its length.
const halfWidth = t => 190 * Math.pow(Math.sin(Math.PI * Math.min(Math.max(t, 0), 1)), 0.55);

// blade draws a leaf with n insects, along the longer side of a phone: upright. It can be
// turned and enlarged by look(what), "turn", "in", "out" or "whole", and moved by a finger.
export function blade(n, random, label) {
  const on = s("g", {}, outline(), placesOf(n, random).map(insect));
  const svg = s("svg", { class: "leaf-drawn", role: "img", "aria-label": label }, on);
  const view = { turn: 1, zoom: 1, x: 0, y: 0 };
  const size = () => view.turn % 2 ? [WIDE, LONG] : [LONG, WIDE];
  const show = () => {
    const [w, h] = size(), vw = w / view.zoom, vh = h / view.zoom;
    view.x = Math.min(Math.max(view.x, 0), w - vw);
    view.y = Math.min(Math.max(view.y, 0), h - vh);
    on.setAttribute("transform", ["", `translate(${WIDE} 0) rotate(90)`, `translate(${LONG} ${WIDE}) rotate(180)`, `translate(0 ${LONG}) rotate(270)`][view.turn]);
    svg.setAttribute("preserveAspectRatio", view.zoom > 1 ? "xMidYMid slice" : "xMidYMid meet"); // enlarged it fills its room
    svg.setAttribute("viewBox", `${view.x} ${view.y} ${vw} ${vh}`);
  };
  const zoom = times => {
    const [w, h] = size(), cx = view.x + w / view.zoom / 2, cy = view.y + h / view.zoom / 2;
    view.zoom = Math.min(Math.max(view.zoom * times, 1), 8);
    Object.assign(view, { x: cx - w / view.zoom / 2, y: cy - h / view.zoom / 2 });
  };
  const look = what => {
    if (what === "turn") Object.assign(view, { turn: (view.turn + 1) % 4, zoom: 1 });
    if (what === "whole") view.zoom = 1;
    if (what === "in") zoom(1.5);
    if (what === "out") zoom(1 / 1.5);
    show();
  };
  let finger = null;
  svg.addEventListener("pointerdown", e => { finger = e; });
  svg.addEventListener("pointermove", e => {
    if (!finger || view.zoom === 1) return;
    const unit = 1 / svg.getScreenCTM().a;
    view.x -= (e.clientX - finger.clientX) * unit;
    view.y -= (e.clientY - finger.clientY) * unit;
    finger = e;
    show();
  });
  for (const end of ["pointerup", "pointercancel", "pointerleave"]) svg.addEventListener(end, () => { finger = null; });
  show();
  return { svg, look };
}

function outline() {
  const edge = side => Array.from({ length: 61 }, (_, i) => `${20 + 16 * i} ${(MIDDLE + side * halfWidth(i / 60)).toFixed(1)}`);
  return [s("path", { d: `M${edge(-1).join("L")}L${edge(1).reverse().join("L")}Z`, fill: "#5f8f3a", stroke: "#2f4f1a" }),
    [-0.75, -0.5, -0.25, 0.25, 0.5, 0.75].map(k => s("path", { d: `M${edge(k).slice(1, 60).join("L")}`, fill: "none", stroke: "#4f7a2e" })),
    s("path", { d: `M4 ${MIDDLE}H984`, stroke: "#dfe8c4", "stroke-width": 7 })];
}

// insect is an aphid as one sees it: pale, with dark horns and feet, older or younger.
const insect = p => s("g", { class: "insect", transform: `translate(${p.x.toFixed(1)} ${p.y.toFixed(1)}) rotate(${p.turn.toFixed(0)}) scale(${(GROWN * (p.adult ? 1 : 0.62) * p.size).toFixed(3)})` },
  s("path", { d: "M-2 -2L-4 -4M0 -2.4L0 -4.6M2 -2L3.6 -4M-2 2L-4 4M0 2.4L0 4.6M2 2L3.6 4", stroke: "#222", "stroke-width": 0.7, fill: "none" }),
  s("ellipse", { rx: 4.3, ry: 2.8, fill: "#f0e6a0", stroke: "#5a5020", "stroke-width": 0.5 }),
  s("path", { d: "M-3.4 -1.4L-5 -2M-3.4 1.4L-5 2", stroke: "#000", "stroke-width": 0.9 }));

// placesOf puts n insects on the blade in colonies along the midrib, none on top of
// another. Where they do not fit, all are drawn smaller.
function placesOf(n, random) {
  const colonies = Array.from({ length: 2 + Math.floor(Math.sqrt(n) / 3) }, () => ({ t: 0.08 + 0.84 * random(), side: random() < 0.5 ? -1 : 1, weight: 0.2 + random() }));
  for (let size = 1; ; size *= 0.9) {
    const placed = [];
    while (placed.length < n) {
      const one = placeOne(colonies, placed, size, random);
      if (!one) break;
      placed.push(one);
    }
    if (placed.length === n) return placed;
  }
}

function placeOne(colonies, placed, size, random) {
  const adult = random() < 0.4, reach = GROWN * (adult ? 5.2 : 3.4) * size, total = colonies.reduce((sum, c) => sum + c.weight, 0);
  for (let tries = 0; tries < 300; tries++) {
    let pick = random() * total;
    const c = colonies.find(each => (pick -= each.weight) < 0) ?? colonies.at(-1), spread = 1 + tries / 60;
    const t = c.t + 0.035 * spread * normal(random), across = c.side * 22 + 42 * spread * normal(random);
    if (t < 0.02 || t > 0.98 || Math.abs(across) > halfWidth(t) - 9) continue;
    const p = { x: 20 + 960 * t, y: MIDDLE + across, adult, reach, size, turn: 360 * random() };
    if (placed.every(q => Math.hypot(p.x - q.x, p.y - q.y) > p.reach + q.reach)) return p;
  }
  return null;
}
