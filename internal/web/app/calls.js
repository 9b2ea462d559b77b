// The engine's calls, in the page's own terms.

export const rules = async app => { await app.engine.ready; return []; };
export const protocols = async (app, field) => { await app.engine.ready; };
export const boundary = async (app, files) => { await app.engine.ready; };
export const plan = async (app, field, stops) => { await app.engine.ready; };
export const after = async (app, walk) => { await app.engine.ready; };
export const map = async (app, walk, wishes) => { await app.engine.ready; };
