import { h } from "../dom.js";
import { say } from "../words.js";
export function noon(app) { return { element: [h("header", {}, h("h1", {}, say("noon")))] }; }
