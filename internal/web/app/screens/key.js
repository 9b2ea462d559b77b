// Key: which aphid it is, by the marks that are seen through a hand lens. The engine judges.
import { aphid, drawnAnswer } from "../aphid.js";
import { aphidBy } from "../calls.js";
import { button, h } from "../dom.js";
import { say } from "../words.js";

export function key(app) {
  const seen = {}, said = h("p", { role: "status", id: "key-said", class: "key-said" }, say("engine-loading"));
  const found = h("ul", { class: "species", id: "species" }), marks = h("div", { id: "marks" });
  const other = h("input", { type: "checkbox", id: "key-form", onchange: () => judge() });
  const judge = async () => {
    try {
      const facts = await aphidBy(seen, other.checked);
      if (!marks.childElementCount) marks.append(...marksOf(facts, seen, judge));
      said.textContent = verdict(facts);
      found.replaceChildren(...facts.species.map(s => speciesOf(s, facts.marks)));
    } catch (problem) {
      said.textContent = problem.message;
    }
  };
  judge();
  const element = [h("header", {}, h("h1", {}, say("key"))), h("p", {}, say("key-how")), said, marks,
    h("label", { class: "choice" }, other, h("span", {}, say("key-other"))),
    h("h2", {}, say("key-five")), found, h("p", {}, say("key-apart")),
    h("p", { class: "quiet" }, say("source"), " ", h("cite", { lang: "en" }, "Bowling et al. 2016; keys of Oklahoma State and Louisiana State extension")),
    button(say("back-before"), () => app.go("before"), { class: "wide" })];
  return { element, update: () => {} };
}

// marksOf are the questions, each with its answers drawn; those that only help are last. An
// answer that is pressed again is taken back.
function marksOf({ marks }, seen, judge) {
  const part = list => list.map(mark => {
    const keys = mark.answers.map(answer => button("", async () => {
      if (seen[mark.name] === answer.word) delete seen[mark.name];
      else seen[mark.name] = answer.word;
      for (const [i, one] of keys.entries()) one.setAttribute("aria-pressed", String(mark.answers[i].word === seen[mark.name]));
      await judge();
    }, { "data-mark": `${mark.name}-${answer.word}`, "aria-pressed": "false" }));
    keys.forEach((one, i) => one.append(drawnAnswer(mark.name, mark.answers[i].word), h("span", {}, mark.answers[i].says)));
    return h("fieldset", {}, h("legend", {}, capital(mark.question)), h("div", { class: "answers" }, keys));
  });
  return [...part(marks.filter(m => m.decides)), h("details", {}, h("summary", {}, say("key-weighed")), part(marks.filter(m => !m.decides)))];
}

const capital = text => text.replace(/\p{L}/u, first => first.toUpperCase());

// verdict is the answer in one line.
function verdict({ decided, species, look_at, marks }) {
  const fits = species.filter(s => !s.against.length), names = fits.map(s => s.name).join(", ");
  if (!fits.length) return say("key-none");
  if (decided) return say("key-is", { name: names });
  const next = marks.find(m => m.name === look_at[0]);
  return [fits.length === 1 ? say("key-not-sure", { name: names }) : say("key-fit", { n: fits.length, names }), next && fits.length < species.length ? say("key-next", { mark: next.question }) : ""].join(" ").trim();
}

// speciesOf is a species as it looks, with what rules it out.
function speciesOf({ name, latin, shows, against }, marks) {
  const said = against.map(mark => marks.find(m => m.name === mark).question.replace(/[¿?]/g, ""));
  const one = Object.fromEntries(Object.entries(shows).map(([mark, answers]) => [mark, answers[0]]));
  return h("li", { class: against.length ? "out" : "" }, aphid(one), h("div", {}, h("strong", {}, name), " ", h("i", { lang: "la" }, latin.split(",")[0]), said.length ? h("p", {}, say("key-not", { marks: said.join("; ") })) : null));
}
