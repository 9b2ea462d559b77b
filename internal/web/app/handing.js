// The counts of a walk as a file to hand on: the part that every screen with a walk shows.
import { cautionsKnown } from "./calls.js";
import { correctionNote } from "./correction.js";
import { table } from "./csv.js";
import { button, h } from "./dom.js";
import { canShare, fileOf, save, share } from "./share.js";
import { say } from "./words.js";

// countsFile is the table of a walk as a file, named by field and day.
export function countsFile(app, walk) {
  return fileOf(`counts-${fileName(app.state.fields.get(walk.field)?.name ?? "")}-${walk.day}.csv`, "text/csv", table(walk, correctionNote(app, walk)).text);
}

// fileName is a field's name as part of that of a file.
export const fileName = name => name.replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-+|-+$/g, "") || "field";

// sharePart are the buttons for the counts of a walk.
export function sharePart(app, walk) {
  const lost = table(walk).lost;
  return h("div", { class: "stack" }, handOn(app, say("file-counts"), "counts.csv", "text/csv", () => countsFile(app, walk), walk),
    lost.length ? h("p", { class: "wrong" }, say("lost-stops", { stops: lost.join(", ") })) : null);
}

// handOn are the buttons for one file, which is made when it is asked for: to save it, and
// to share it, with the cautions beside it, where the phone hands on files of such a name
// and type. That the counts of a walk were handed on is kept.
export function handOn(app, name, file, type, make, walk) {
  const marked = async () => { if (walk) await app.keep(() => ({ kind: "shared", walk: walk.id })); };
  const sheet = canShare(fileOf(file, type, "")) ? button(say("share-sheet", { name }), async () => { if (await share(await make(), cautionsKnown().join(" ")) === "shared") await marked(); }, { "data-share": name }) : null;
  return h("div", { class: "row" }, sheet, button(say("save-file", { name }), async () => { save(await make()); await marked(); }, { "data-save": name }));
}
