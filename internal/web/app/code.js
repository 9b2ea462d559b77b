// The script of the engine's worker. It is put in when the page is made for a phone, so that
// the engine begins at once; a server's page has no worker.
export const code = "";
