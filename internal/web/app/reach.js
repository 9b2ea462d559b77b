// The way to the engine: the server that showed the page, or the worker in it.
import { call as byWorker } from "./engine.js";
import { call as byServer, served } from "./served.js";

export const call = served ? byServer : byWorker;
