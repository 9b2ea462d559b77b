// The command line that does the same as a page, to be copied.
import { button, h } from "../dom.js";
import { fileOf, save } from "../share.js";
import { said } from "./words.js";

// commandPart is a part of a page; show(lines, settings) puts other commands in, none hides
// it. Settings are files that the commands take in place of their flags.
export function commandPart() {
  const text = h("pre", { tabindex: 0, class: "lines", role: "group" }), done = h("span", { role: "status" }), title = h("h2", {}), files = h("div", {});
  const copy = button(said("copy"), async () => {
    await navigator.clipboard.writeText(text.textContent).catch(() => getSelection().selectAllChildren(text));
    done.textContent = said("copied");
  }, { id: "copy" });
  const part = h("section", { class: "command", id: "command", hidden: true }, title, text, copy, " ", done, files);
  const show = (lines, settings = []) => {
    part.hidden = !lines?.length;
    text.textContent = (lines ?? []).join("\n");
    title.textContent = said(lines?.length > 1 ? "commands" : "command");
    text.setAttribute("aria-label", title.textContent);
    done.textContent = "";
    const open = files.querySelector("details")?.open;
    files.replaceChildren(...settings.length ? [settingsPart(settings, open)] : []);
  };
  return { part, show };
}

// settingsPart offers files of settings, and says how a command takes them.
function settingsPart(settings, open) {
  return h("details", { id: "settings", open }, h("summary", {}, said("settings")), h("p", {}, said("settings-hint")),
    h("div", { class: "row" }, settings.map(f => button(said("save", f), () => save(fileOf(f.name, "application/toml", f.text)), { "data-save": f.name }))),
    h("pre", { class: "lines", tabindex: 0, role: "group", "aria-label": said("settings") }, settings.map(f => f.command).join("\n")));
}
