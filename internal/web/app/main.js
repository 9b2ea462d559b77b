// The page begins here.
import { ready } from "./engine.js";

const screen = document.getElementById("screen");
ready.then(version => { screen.dataset.ready = version; }, fault => { screen.textContent = fault.message; });
