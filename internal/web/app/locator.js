// The device's position: one watch for the dot on the map, and gatherings of fixes while
// one stands at a stop. Requests wait while the page is hidden.

const WISHES = { enableHighAccuracy: true, maximumAge: 0, timeout: 30000 };

// canLocate says whether the page may ask at all: not from an insecure address, and not
// from a file on an iPhone.
export const canLocate = () => "geolocation" in navigator && isSecureContext;

const fixOf = position => ({
  longitude: position.coords.longitude, latitude: position.coords.latitude, accuracy: position.coords.accuracy, at: position.timestamp,
});

// watch tells each fix, or why there is none: "denied" or "none". It returns what ends it.
export function watch(onFix, onTrouble) {
  if (!canLocate()) {
    onTrouble("none");
    return () => {};
  }
  const id = navigator.geolocation.watchPosition(p => onFix(fixOf(p)), e => onTrouble(e.code === e.PERMISSION_DENIED ? "denied" : "none"), WISHES);
  return () => navigator.geolocation.clearWatch(id);
}

// SHORTEST and LONGEST are how long fixes are gathered, in ms; ENOUGH is how many end it
// after the shorter.
const SHORTEST = 10000, LONGEST = 30000, ENOUGH = 8;

// gather collects fixes while one stands still, for 10 to 30 s. onFix is called after
// each; done(fixes) once, at the end or when stop() is called.
export function gather(onFix, done) {
  const fixes = [], begun = performance.now();
  let over = false;
  const end = () => {
    if (over) return;
    over = true;
    clearTimeout(limit);
    done(fixes);
  };
  const limit = setTimeout(end, LONGEST);
  const ask = () => {
    if (over) return;
    navigator.geolocation.getCurrentPosition(p => {
      if (over) return;
      fixes.push(fixOf(p));
      onFix(fixes);
      if (fixes.length >= ENOUGH && performance.now() - begun >= SHORTEST) end();
      else setTimeout(ask, 1000);
    }, () => { if (!over) setTimeout(ask, 1000); }, WISHES);
  };
  if (canLocate()) ask();
  else end();
  return { stop: end };
}
