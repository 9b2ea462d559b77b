// Before, the start: the walk is planned and begins.
import { plain, plan, protocolOf } from "../calls.js";
import { day } from "../clock.js";
import { button, h, labelled } from "../dom.js";
import { say } from "../words.js";

const STOPS = 12; // our choice: fewer never end a walk

// startPart plans the walk and begins it.
export function startPart(app, field) {
  const stops = h("input", { type: "number", id: "stops", min: 1, max: 200, value: app.state.settings.stops ?? STOPS });
  const begin = async (planned, go) => {
    go.disabled = true;
    try {
      const protocol = app.failed ? plain() : await protocolOf(field);
      if (protocol.ask === "none") throw new Error(say("advice", { advice: protocol.advice }));
      const places = !planned ? [] : field.planned ?? (await plan(field, Number(stops.value))).stops;
      const walk = crypto.randomUUID();
      await app.keep(() => ({ kind: "walk", walk, field: field.id, day: day(), observer: app.state.settings.observer ?? "", stage: protocol.stage, protocol, stops: places }));
      app.walkID = walk;
      app.go("walk");
    } catch (problem) {
      app.tell(problem.message);
      go.disabled = false;
    }
  };
  const open = app.walk() && !app.walk().ended; // going on with it is what comes first then
  const go = button(say("plan-walk"), () => begin(true, go), { class: open ? "wide" : "main wide", id: "plan" });
  const free = button(say("walk-unplanned"), () => begin(false, free), { id: "free" });
  return h("section", { class: "stack" }, field.planned ? h("p", {}, say("planned-already", { n: field.planned.length })) : labelled(say("stops"), stops), go, free);
}
