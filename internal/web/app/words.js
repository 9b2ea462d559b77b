// What the page says, in the language that was chosen.
import { en } from "./words/en.js";
import { es } from "./words/es.js";

const languages = { en, es };
let chosen = "en";

// speak chooses a language; one that is not known is English.
export function speak(language) {
  chosen = languages[language] ? language : "en";
  document.documentElement.lang = chosen;
}

// spoken is the language that was chosen.
export const spoken = () => chosen;

// say is the words for a key, with {names} put in.
export function say(key, values = {}) {
  const words = languages[chosen][key];
  if (words === undefined) throw new Error(`no words for ${key}`);
  return words.replace(/\{(\w+)\}/g, (_, name) => values[name] ?? "");
}

// number writes a number by the language's signs with so many decimals at most.
export const number = (value, decimals = 0) => value.toLocaleString(chosen === "es" ? "es-US" : "en-US", { maximumFractionDigits: decimals });

// dayInWords writes a day of the calendar, ISO 8601, as people say it.
export const dayInWords = iso => new Date(`${iso}T12:00:00Z`).toLocaleDateString(chosen === "es" ? "es-US" : "en-GB",
  { weekday: "long", day: "numeric", month: "long", year: "numeric", timeZone: "UTC" }).replace(",", "");
