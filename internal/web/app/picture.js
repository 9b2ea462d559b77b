// The map as a picture to hand on.

const LARGE = 3; // pixels of the picture for each of the map's units

// pictureOf draws a map of the page to a file of PNG.
export async function pictureOf(svg, name) {
  const copy = svg.cloneNode(true), { width, height } = svg.viewBox.baseVal;
  copy.setAttribute("xmlns", "http://www.w3.org/2000/svg");
  copy.setAttribute("width", width * LARGE);
  copy.setAttribute("height", height * LARGE);
  copy.querySelector(".own")?.remove(); // where one stands is nobody's business but one's own
  const style = document.createElementNS("http://www.w3.org/2000/svg", "style");
  style.textContent = rulesOfMaps();
  copy.prepend(style);
  const address = URL.createObjectURL(new Blob([new XMLSerializer().serializeToString(copy)], { type: "image/svg+xml" }));
  try {
    const image = new Image();
    image.src = address;
    await image.decode();
    const canvas = Object.assign(document.createElement("canvas"), { width: width * LARGE, height: height * LARGE }), on = canvas.getContext("2d");
    on.fillStyle = "#fff";
    on.fillRect(0, 0, canvas.width, canvas.height);
    on.drawImage(image, 0, 0);
    const blob = await new Promise(done => canvas.toBlob(done, "image/png"));
    return new File([blob], name, { type: "image/png" });
  } finally {
    URL.revokeObjectURL(address);
  }
}

// rulesOfMaps are the page's own rules for maps, with the colours of zones.
function rulesOfMaps() {
  const root = getComputedStyle(document.documentElement);
  const colours = ["--treat", "--watch", "--clear"].map(c => `${c}: ${root.getPropertyValue(c)};`).join(" ");
  const rules = [...document.styleSheets].flatMap(sheet => [...sheet.cssRules]).filter(r => r.selectorText?.startsWith(".map "));
  return `:root { ${colours} } ` + rules.map(r => r.cssText.replaceAll(".map ", "")).join(" ");
}
