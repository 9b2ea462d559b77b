// The command line that does the same as a page, to be copied.
import { button, h } from "../dom.js";
import { said } from "./words.js";

// commandPart is a part of a page; show(lines) puts other commands in, none hides it.
export function commandPart() {
  const text = h("pre", { tabindex: 0, class: "lines", role: "group" }), done = h("span", { role: "status" }), title = h("h2", {});
  const copy = button(said("copy"), async () => {
    await navigator.clipboard.writeText(text.textContent).catch(() => getSelection().selectAllChildren(text));
    done.textContent = said("copied");
  }, { id: "copy" });
  const part = h("section", { class: "command", id: "command", hidden: true }, title, text, copy, " ", done);
  const show = lines => {
    part.hidden = !lines?.length;
    text.textContent = (lines ?? []).join("\n");
    title.textContent = said(lines?.length > 1 ? "commands" : "command");
    text.setAttribute("aria-label", title.textContent);
    done.textContent = "";
  };
  return { part, show };
}
