// Before, the walks that the phone keeps.
import { button, h } from "../dom.js";
import { sharePart } from "../handing.js";
import { theWalk } from "../log.js";
import { counted } from "../walk.js";
import { dayInWords, say } from "../words.js";

// walksPart are the walks that the phone keeps, newest first, each with its file.
export function walksPart(app) {
  const all = [...app.state.walks.keys()].reverse().map(id => theWalk(app.state, id)).filter(w => counted(w).length);
  if (!all.length) return null;
  return h("details", { open: all.some(w => w.ended && !w.shared) }, h("summary", {}, say("walks")), h("ul", { class: "walks" }, all.map(w => h("li", {},
    h("p", {}, say("walk-line", { field: app.state.fields.get(w.field)?.name ?? "", day: dayInWords(w.day), n: counted(w).length }), w.shared ? "" : ` ${say("not-shared")}`),
    sharePart(app, w),
    button(say("open-noon"), () => { app.walkID = w.id; app.go("noon"); })))));
}
