// The sheet of the varnish: a touch (or arrow keys and Enter) reads a place, or sets it in the form below.
(() => {
  const sheet = document.querySelector(".varnish-sheet");
  if (!sheet) return;
  const svg = sheet.querySelector("svg"), NS = "http://www.w3.org/2000/svg";
  const width = Number(sheet.dataset.width), height = Number(sheet.dataset.height);
  const places = JSON.parse(document.getElementById("sheet-places").textContent);
  const mode = sheet.dataset.mode;
  const field = (name) => document.querySelector(`.varnish-form [name=${name}]`);
  const pin = document.createElementNS(NS, "g");
  svg.append(pin);
  const draw = (x, y) => {
    pin.replaceChildren();
    for (const r of [4.6, 0.7]) {
      const ring = document.createElementNS(NS, "circle");
      for (const [key, value] of Object.entries({ class: "pin", cx: x, cy: height - y, r })) ring.setAttribute(key, value);
      pin.append(ring);
    }
  };
  const beside = (p, x, y) => Math.max(p.x - x, x - p.x - p.w, 0) + Math.max(p.y - y, y - p.y - p.h, 0);
  const locate = (x, y) => {
    const near = places.reduce((a, b) => (beside(a, x, y) <= beside(b, x, y) ? a : b));
    if (beside(near, x, y) > 4) return null;
    const share = (value) => Math.min(Math.max(value, 0), 1).toFixed(4);
    return { view: near.view, x: share((x - near.x) / near.w), y: share((y - near.y) / near.h) };
  };
  const touch = (x, y) => {
    const at = locate(x, y);
    if (!at) return;
    draw(x, y);
    if (mode === "look") {
      const address = new URL(location.href);
      for (const [key, value] of Object.entries(at)) address.searchParams.set(key, value);
      address.hash = "here";
      location.href = address;
    } else {
      for (const [key, value] of Object.entries(at)) field(key).value = value;
    }
  };
  svg.addEventListener("click", (event) => {
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    touch(at.x, height - at.y);
  });
  let cross = null;
  sheet.addEventListener("keydown", (event) => {
    const step = event.shiftKey ? 0.5 : 4;
    const move = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, step], ArrowDown: [0, -step] }[event.key];
    if (move) {
      cross = cross || [width / 2, height / 2];
      cross = [Math.min(Math.max(cross[0] + move[0], 0), width), Math.min(Math.max(cross[1] + move[1], 0), height)];
      draw(...cross);
      event.preventDefault();
    } else if (event.key === "Enter" && cross) {
      touch(...cross);
      event.preventDefault();
    }
  });
  // A place that came with the address, or back with the form, is shown again.
  const asked = new URLSearchParams(location.search);
  const start = mode === "place" && field("x").value ? { view: field("view").value, x: field("x").value, y: field("y").value }
    : { view: asked.get("view"), x: asked.get("x"), y: asked.get("y") };
  const known = places.find((p) => p.view === start.view);
  if (known && start.x) {
    draw(known.x + Number(start.x) * known.w, known.y + Number(start.y) * known.h);
    if (mode === "place") for (const key of ["view", "x", "y"]) field(key).value = start[key];
  }
  // Another view chosen by hand: the touch no longer holds.
  if (mode === "place") field("view").addEventListener("change", () => { field("x").value = field("y").value = ""; pin.replaceChildren(); });
})();
