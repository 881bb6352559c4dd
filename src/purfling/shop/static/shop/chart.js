// The chart of marks: a touch (or the arrow keys and Enter) sets a point, a run along an edge or a line.
(() => {
  const chart = document.getElementById("chart");
  if (!chart) return;
  const box = chart.querySelector(".marks-sheet"), svg = box.querySelector("svg");
  const height = Number(chart.dataset.height), width = Number(chart.dataset.width);
  const drawer = document.getElementById("drawer"), form = document.getElementById("new-mark");
  const hint = document.getElementById("hint"), done = document.getElementById("line-done");
  const NS = "http://www.w3.org/2000/svg";
  let mode = chart.dataset.open ? "point" : "look", touched = [], cross = null;
  const layer = document.createElementNS(NS, "g");
  svg.append(layer);

  const shape = (name, attributes) => {
    const made = document.createElementNS(NS, name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    layer.append(made);
    return made;
  };
  const draw = () => {
    layer.replaceChildren();
    for (const [x, y] of touched) {
      shape("circle", { class: "pin", cx: x, cy: height - y, r: 3.4 });
      shape("circle", { class: "pin", cx: x, cy: height - y, r: 0.6 });
    }
    if (touched.length > 1) shape("polyline", { class: "pin-line", points: touched.map(([x, y]) => `${x},${height - y}`).join(" ") });
    if (cross) {
      shape("line", { class: "cross", x1: cross[0] - 8, x2: cross[0] + 8, y1: height - cross[1], y2: height - cross[1] });
      shape("line", { class: "cross", x1: cross[0], x2: cross[0], y1: height - cross[1] - 8, y2: height - cross[1] + 8 });
    }
  };
  const say = () => { if (hint) hint.textContent = hint.dataset[mode]; };
  const open = () => {
    if (!drawer) return;
    form.elements.touched.value = JSON.stringify(touched.map(([x, y]) => [Number(x.toFixed(3)), Number(y.toFixed(3))]));
    form.elements.along_edge.value = mode === "edge" ? "on" : "";
    if (form.elements.closer) form.elements.closer.value = chart.dataset.closer;
    drawer.hidden = false;
    if (done) done.hidden = true;
    const first = form.querySelector("input[type=radio]:checked") || form.querySelector("input[type=radio]");
    if (first) first.focus({ preventScroll: true });
  };
  const touch = (x, y) => {
    if (mode === "look") return;
    if (drawer && !drawer.hidden) touched = [];
    if (mode === "point") touched = [[x, y]]; else touched.push([x, y]);
    if (mode === "edge" && touched.length > 2) touched = [[x, y]];
    if (mode === "line" && done) done.hidden = touched.length < 2;
    draw();
    if (mode === "point" || (mode === "edge" && touched.length === 2)) open();
  };
  const place = (event) => {
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    return [at.x, height - at.y];
  };
  const go = (key, value) => {
    const address = new URL(location.href);
    address.searchParams.set(key, value);
    address.hash = key === "mark" ? "mark" : "";
    location.href = address;
  };
  svg.addEventListener("click", (event) => {
    const mark = event.target.closest("[id^=mark-]");
    if (mark) { go("mark", mark.id.slice(5)); return; }
    const view = event.target.closest("[id^=view-]");
    if (mode === "look" && view && !chart.dataset.closer) { go("closer", view.id.slice(5)); return; }
    touch(...place(event));
  });
  box.addEventListener("keydown", (event) => {
    const step = event.shiftKey ? 0.5 : 4;
    const move = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, step], ArrowDown: [0, -step] }[event.key];
    if (move) {
      cross = cross || [width / 2, height / 2];
      cross = [Math.min(Math.max(cross[0] + move[0], 0), width), Math.min(Math.max(cross[1] + move[1], 0), height)];
      draw();
      event.preventDefault();
    } else if (event.key === "Enter" && cross) {
      touch(...cross);
      event.preventDefault();
    }
  });
  for (const button of chart.querySelectorAll("[data-mode]")) {
    button.addEventListener("click", () => {
      mode = button.dataset.mode;
      touched = [];
      if (done) done.hidden = true;
      for (const other of chart.querySelectorAll("[data-mode]")) other.setAttribute("aria-pressed", String(other === button));
      draw();
      say();
    });
  }
  if (done) done.addEventListener("click", open);
  const away = document.getElementById("not-this");
  const put_away = () => { drawer.hidden = true; touched = []; draw(); box.focus({ preventScroll: true }); };
  if (away) away.addEventListener("click", put_away);
  document.addEventListener("keydown", (event) => { if (event.key === "Escape" && drawer && !drawer.hidden) put_away(); });
  say();
})();
