// The engine of the program that showed this page, on the same machine. The token comes
// behind the # of the address, is kept for this tab, and goes along in a header.

// served tells the page of a server from one that has its engine in it.
export const served = "served" in document.documentElement.dataset;

const HEADER = "Geocoris-Token", TYPE = "application/octet-stream", KEY = "token";

if (served && location.hash.length > 1) {
  sessionStorage.setItem(KEY, location.hash.slice(1));
  history.replaceState(null, "", location.pathname); // not on a screen that is shown to others
}

// call asks the engine. Files come and go as { role, name, bytes }. What goes wrong with a
// request is the reply's error; it rejects where the program does not answer, and where
// the signal gave up.
export async function call(what, settings = {}, files = [], signal) {
  const parts = files.map(f => typeof f.bytes === "string" ? new TextEncoder().encode(f.bytes) : f.bytes);
  const line = JSON.stringify({ call: { do: what, settings, files: files.map(({ role, name }) => ({ role, name })) }, sizes: parts.map(p => p.length) });
  const response = await fetch("/call", {
    method: "POST", headers: { [HEADER]: sessionStorage.getItem(KEY) ?? "", "Content-Type": TYPE }, body: new Blob([line, "\n", ...parts]), signal,
  });
  if (!response.ok) throw Object.assign(new Error((await response.text()).trim()), { status: response.status });
  return replyOf(new Uint8Array(await response.arrayBuffer()));
}

// replyOf reads a line of JSON and the bytes behind it.
function replyOf(all) {
  const end = all.indexOf(10), { reply, sizes } = JSON.parse(new TextDecoder().decode(all.subarray(0, end)));
  let at = end + 1;
  const files = reply.files.map((f, i) => {
    const bytes = all.slice(at, at + sizes[i]);
    at += sizes[i];
    return { ...f, bytes };
  });
  return { ...reply, files };
}
