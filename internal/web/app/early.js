// The store begins to open before anything else, as a browser takes its time. It keeps events
// in the order in which they were made.
opening = new Promise((opened, failed) => {
  const asked = indexedDB.open("geocoris", 1);
  asked.onupgradeneeded = () => asked.result.createObjectStore("events", { keyPath: "n", autoIncrement: true });
  asked.onsuccess = () => opened(asked.result);
  asked.onerror = () => failed(asked.error);
});
opening.catch(() => {}); // who asks for it is told
