// The page begins here: it reads the log and shows the screen that was left.
import { start } from "./app.js";

start();
