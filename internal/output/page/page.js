"use strict";
(() => {
  const data = JSON.parse(document.getElementById("data").textContent);
  const words = JSON.parse(document.getElementById("words").textContent);
  // What is said in English is looked up in the page's language, and its places are filled in.
  const say = (english, ...args) => (words[english] || english).replace(/\{(\d)\}/g, (_, i) => args[i]);
  const ns = "http://www.w3.org/2000/svg";

  const start = (figure) => {
    const svg = figure.querySelector("svg.plot");
    const told = figure.querySelector(".told");
    const field = data[Number(svg.dataset.field)];
    const whole = svg.getAttribute("viewBox").split(" ").map(Number);
    let view = whole.slice();
    let chosen = -1;

    const circles = [...svg.querySelectorAll(".stops circle")].map((c) => [c, Number(c.getAttribute("r")), Number(c.getAttribute("stroke-width"))]);
    const shown = (r) => r * view[2] / whole[2];
    // The longest of 1, 2 or 5 times a power of ten that is no longer than a third.
    const measure = () => {
      const bar = figure.querySelector(".bar"), most = view[2] * field.perMM / 3;
      const decade = 10 ** Math.floor(Math.log10(most));
      const length = [5, 2, 1].find((k) => k * decade <= most) * decade;
      bar.setAttribute("width", (100 * length / field.perMM / view[2]).toFixed(2) + "%");
      figure.querySelector(".length").textContent = `${Number(length.toPrecision(1))} ${field.unit}`;
    };
    // Discs stay as large as the legend shows them, so that stops part.
    const show = () => {
      svg.setAttribute("viewBox", view.map((v) => v.toFixed(3)).join(" "));
      svg.classList.toggle("near", view[2] < whole[2] * 0.999);
      circles.forEach(([c, r, line]) => { c.setAttribute("r", shown(r)); c.setAttribute("stroke-width", shown(line)); });
      if (chosen >= 0) markStop(chosen);
      measure();
    };
    // Width and height of the view stay in proportion; it never leaves the map.
    const look = (x, y, width) => {
      const w = Math.min(whole[2], Math.max(whole[2] / 40, width));
      const h = w * whole[3] / whole[2];
      view = [Math.min(Math.max(x, 0), whole[2] - w), Math.min(Math.max(y, 0), whole[3] - h), w, h];
      show();
    };
    const toMap = (clientX, clientY) => {
      const p = new DOMPoint(clientX, clientY).matrixTransform(svg.getScreenCTM().inverse());
      return [p.x, p.y];
    };
    const zoom = (factor, at) => {
      const [x, y] = at || [view[0] + view[2] / 2, view[1] + view[3] / 2];
      const w = Math.min(whole[2], Math.max(whole[2] / 40, view[2] / factor));
      const k = w / view[2];
      look(x - (x - view[0]) * k, y - (y - view[1]) * k, w);
    };

    const mark = (name, x, y, r, width) => {
      let m = svg.querySelector("." + name);
      if (!m) {
        m = document.createElementNS(ns, "circle");
        m.setAttribute("class", name);
        svg.append(m);
      }
      m.setAttribute("cx", x);
      m.setAttribute("cy", y);
      m.setAttribute("r", r);
      m.setAttribute("stroke-width", width);
    };
    const unmark = (name) => {
      const m = svg.querySelector("." + name);
      if (m) m.remove();
    };
    const markStop = (i) => {
      const s = field.stops[i];
      mark("chosen", s.x, s.y, shown(s.r + 1), shown(0.6));
    };
    const tellStop = (i) => {
      const s = field.stops[i];
      chosen = i;
      markStop(i);
      told.textContent = say("Stop {0}: {1} ({2} on {3})", s.name, s.value, s.count, s.units) + (s.zone ? say(", on {0} ground", s.zone) : "") + say("; predicted by the others {0}", s.leftOut) + (s.more ? "; " + s.more : "");
    };
    const tellZone = (zone) => {
      unmark("chosen");
      chosen = -1;
      told.textContent = field.zones[zone];
    };
    // The nearest stop under a finger, else the zone there.
    const tap = (event) => {
      const [x, y] = toMap(event.clientX, event.clientY);
      const reach = 14 * view[2] / svg.getBoundingClientRect().width;
      let best = -1, least = Infinity;
      if (!svg.querySelector(".stops").classList.contains("off")) {
        field.stops.forEach((s, i) => {
          const d = Math.hypot(s.x - x, s.y - y) - shown(s.r);
          if (d < least) { least = d; best = i; }
        });
      }
      if (best >= 0 && least <= reach) { tellStop(best); return; }
      const under = document.elementsFromPoint(event.clientX, event.clientY).find((e) => field.zones[e.dataset && e.dataset.key]);
      if (under) tellZone(under.dataset.key);
    };

    const fingers = new Map();
    let moved = 0;
    svg.addEventListener("pointerdown", (e) => {
      fingers.set(e.pointerId, e);
      if (fingers.size === 1) moved = 0;
    });
    svg.addEventListener("pointermove", (e) => {
      const before = fingers.get(e.pointerId);
      if (!before) return;
      const scale = view[2] / svg.getBoundingClientRect().width;
      const dx = e.clientX - before.clientX, dy = e.clientY - before.clientY;
      moved += Math.hypot(dx, dy);
      if (fingers.size === 2) {
        const other = [...fingers.values()].find((f) => f.pointerId !== e.pointerId);
        const was = Math.hypot(before.clientX - other.clientX, before.clientY - other.clientY);
        const is = Math.hypot(e.clientX - other.clientX, e.clientY - other.clientY);
        if (was > 0 && is > 0) zoom(is / was, toMap((e.clientX + other.clientX) / 2, (e.clientY + other.clientY) / 2));
      } else if (moved > 6) {
        if (!svg.hasPointerCapture(e.pointerId)) svg.setPointerCapture(e.pointerId);
        look(view[0] - dx * scale, view[1] - dy * scale, view[2]);
      }
      fingers.set(e.pointerId, e);
    });
    const lift = (e) => {
      const known = fingers.delete(e.pointerId);
      if (known && e.type === "pointerup" && moved <= 6 && fingers.size === 0) tap(e);
    };
    svg.addEventListener("pointerup", lift);
    svg.addEventListener("pointercancel", lift);
    // With two fingers down the page must not scroll or zoom besides.
    svg.addEventListener("touchmove", (e) => { if (e.touches.length > 1) e.preventDefault(); }, { passive: false });
    svg.addEventListener("wheel", (e) => {
      if (!e.ctrlKey && !e.metaKey && document.activeElement !== svg) return;
      e.preventDefault();
      zoom(Math.exp(-e.deltaY / 400), toMap(e.clientX, e.clientY));
    }, { passive: false });

    if (figure.matches(":last-child, .side > *")) told.textContent = say("Tap a stop or a colour for its numbers.");
    svg.setAttribute("tabindex", "0");
    svg.addEventListener("keydown", (e) => {
      if (e.ctrlKey || e.metaKey || e.altKey) return;
      const step = view[2] / 8, n = field.stops.length;
      const acts = {
        "+": () => zoom(1.5), "=": () => zoom(1.5), "-": () => zoom(1 / 1.5), "0": () => look(0, 0, whole[2]),
        ArrowLeft: () => look(view[0] - step, view[1], view[2]), ArrowRight: () => look(view[0] + step, view[1], view[2]),
        ArrowUp: () => look(view[0], view[1] - step, view[2]), ArrowDown: () => look(view[0], view[1] + step, view[2]),
        n: () => tellStop((chosen + 1) % n), p: () => tellStop((Math.max(chosen, 0) + n - 1) % n),
      };
      const act = acts[e.key] || acts[e.key.toLowerCase()];
      if (act) { act(); e.preventDefault(); }
    });

    // A mark that is no longer true must not stay.
    const nowhere = (why) => { unmark("here"); told.textContent = why; };
    const here = () => {
      told.textContent = say("asking the device where it is …");
      navigator.geolocation.getCurrentPosition((fix) => {
        const e = fix.coords.longitude - field.centre[0], n = fix.coords.latitude - field.centre[1];
        const [a, b, c, d, f, g] = field.affine;
        const x = a + b * e + c * e * n, y = d + f * n + g * e * e;
        if (x < 0 || y < 0 || x > whole[2] || y > whole[3]) { nowhere(say("You are not on this map.")); return; }
        mark("here", x, y, whole[2] / 70, 0.7);
        told.textContent = say("You are at the blue dot, to within {0} m.", Math.round(fix.coords.accuracy));
      }, (fault) => nowhere(fault.code === fault.PERMISSION_DENIED ?
        say("This page may not know where you are: the device or its browser refused. Nothing is marked.") :
        say("The device does not find where it is. Nothing is marked; try again under open sky.")),
      { enableHighAccuracy: true, timeout: 15000 });
    };
    const buttons = { in: () => zoom(1.5), out: () => zoom(1 / 1.5), all: () => look(0, 0, whole[2]), here };
    figure.querySelectorAll("button").forEach((b) => {
      b.addEventListener("click", buttons[b.dataset.do]);
      if (b.dataset.do === "here" && !("geolocation" in navigator)) b.hidden = true;
    });
  };

  // A switch shows and hides its layer on all maps of a field, and the scale of it.
  const startLayers = (section) => {
    section.querySelectorAll("input[data-layer]").forEach((box) => {
      const name = box.dataset.layer;
      const parts = name === "zones" ? [".zones", ".signs"] : ["." + name];
      const apply = () => {
        parts.forEach((p) => section.querySelectorAll("svg.plot g.layer" + p).forEach((g) => g.classList.toggle("off", !box.checked)));
        section.querySelectorAll(`[data-scale="${name}"]`).forEach((s) => { s.hidden = !box.checked; });
      };
      box.addEventListener("change", apply);
      apply();
    });
    section.querySelectorAll(".switches").forEach((e) => {
      e.hidden = false;
      e.open = matchMedia("(min-width: 72rem)").matches;
    });
  };

  // Of several visits the slider shows one alone; the button shows all again.
  const startSlider = (section) => {
    const slider = section.querySelector(".slider");
    if (!slider) return;
    const range = slider.querySelector("input");
    const figures = [...section.querySelectorAll(".weeks figure")];
    const show = (only) => figures.forEach((f, i) => f.classList.toggle("off", only >= 0 && i !== only));
    const word = () => range.setAttribute("aria-valuetext", figures[Number(range.value)].dataset.date);
    range.addEventListener("input", () => { show(Number(range.value)); word(); });
    slider.querySelector("button").addEventListener("click", () => show(-1));
    word();
    if (matchMedia("(max-width: 40rem)").matches) show(figures.length - 1);
    slider.hidden = false;
  };

  // On paper nothing can be opened: the folded parts are open while it is printed.
  let opened = [];
  addEventListener("beforeprint", () => {
    opened = [...document.querySelectorAll("details.printed:not([open])")];
    opened.forEach((d) => { d.open = true; });
  });
  addEventListener("afterprint", () => opened.forEach((d) => { d.open = false; }));

  document.querySelectorAll("figure.map").forEach(start);
  document.querySelectorAll("section.field, details.one").forEach((section) => { startLayers(section); startSlider(section); });
  document.documentElement.dataset.ready = "yes";
})();
