// The page of a laptop begins here: four steps over one desk, each with the command that
// does the same.
import { h } from "../dom.js";
import { answer } from "./answer.js";
import { bringing } from "./bring.js";
import { empty, lookAgain } from "./desk.js";
import { handOver } from "./handover.js";
import { weeks } from "./weeks.js";
import { said } from "./words.js";
import { measureIn } from "../measure.js";

const steps = { "bring": bringing, "answer": answer, "hand-over": handOver, "weeks": weeks };
const app = { desk: empty(), shown: "", go, tell };

measureIn(/-US$/.test(navigator.language) ? "us" : "metric");

document.getElementById("steps").append(...Object.keys(steps).map(name => h("button", { type: "button", id: `step-${name}`, onclick: () => go(name) }, said(name))));

start();

async function start() {
  let trouble = "";
  try {
    await lookAgain(app.desk);
  } catch (problem) {
    trouble = problem.message;
  }
  go(app.desk.folder.season ? "weeks" : "bring");
  tell(trouble);
  document.documentElement.dataset.ready = "";
}

// go shows a step.
function go(name) {
  app.leave?.();
  app.shown = name;
  tell("");
  const main = document.getElementById("screen");
  main.className = name;
  const head = h("h1", { tabindex: -1 }, said(`${name}-title`));
  const { element, leave } = steps[name](app);
  app.leave = leave;
  main.replaceChildren(head, ...[element].flat().filter(Boolean));
  for (const b of document.querySelectorAll("#steps button")) {
    if (b.id === `step-${name}`) b.setAttribute("aria-current", "page");
    else b.removeAttribute("aria-current");
  }
  document.title = `Geocoris: ${head.textContent}`;
  scrollTo(0, 0);
  head.focus({ preventScroll: true });
}

// tell says what is wrong, or nothing.
function tell(words) {
  document.getElementById("alert").textContent = words;
}
