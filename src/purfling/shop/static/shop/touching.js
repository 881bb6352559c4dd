// Touching places on photographs: a scale, an outline, pairs of places on two pictures, the slider of an overlay.
(() => {
  const NS = "http://www.w3.org/2000/svg";
  const layer_of = (picture) => {
    let svg = picture.querySelector("svg");
    if (!svg) {
      svg = document.createElementNS(NS, "svg");
      svg.setAttribute("viewBox", "0 0 1000 1000");
      svg.setAttribute("preserveAspectRatio", "none");
      picture.append(svg);
    }
    svg.replaceChildren();
    return svg;
  };
  const draw = (picture, points, closed) => {
    const svg = layer_of(picture), box = picture.getBoundingClientRect();
    const kx = 1000 / box.width, ky = 1000 / box.height;
    if (points.length > 1) {
      const line = document.createElementNS(NS, closed ? "polygon" : "polyline");
      line.setAttribute("points", points.map(([x, y]) => `${x * 1000},${y * 1000}`).join(" "));
      line.setAttribute("fill", closed ? "rgba(240,162,107,.25)" : "none");
      line.setAttribute("stroke", "#9A3F12");
      line.setAttribute("stroke-width", "2");
      line.setAttribute("vector-effect", "non-scaling-stroke");
      svg.append(line);
    }
    points.forEach(([x, y], i) => {
      const dot = document.createElementNS(NS, "ellipse"), word = document.createElementNS(NS, "text");
      for (const [key, value] of Object.entries({ cx: x * 1000, cy: y * 1000, rx: 7 * kx, ry: 7 * ky, fill: "#FBF7EF", stroke: "#9A3F12", "stroke-width": 2, "vector-effect": "non-scaling-stroke" })) dot.setAttribute(key, value);
      svg.append(dot);
      if (!closed) {
        word.setAttribute("transform", `translate(${x * 1000 + 10 * kx} ${y * 1000 - 8 * ky}) scale(${kx} ${ky})`);
        word.setAttribute("font-size", "20"); word.setAttribute("font-weight", "700"); word.setAttribute("fill", "#9A3F12");
        word.setAttribute("stroke", "#FBF7EF"); word.setAttribute("stroke-width", "4"); word.setAttribute("paint-order", "stroke");
        word.textContent = String(i + 1);
        svg.append(word);
      }
    });
  };
  const share = (picture, event) => {
    const box = picture.querySelector("img").getBoundingClientRect();
    return [(event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height].map((v) => Math.min(Math.max(Number(v.toFixed(5)), 0), 1));
  };

  const picture = document.getElementById("picture"), measure = document.getElementById("measure");
  if (picture && measure) {
    let kind = null, points = [];
    const form_of = () => document.querySelector(`form[data-for=${kind}]`);
    const show = () => {
      draw(picture, points, kind === "area");
      const form = form_of();
      form.elements.points.value = JSON.stringify(points);
      const four = form.querySelector(".four");
      if (four) four.hidden = points.length < 3;
    };
    for (const button of measure.querySelectorAll("[data-touch]")) {
      button.addEventListener("click", () => {
        kind = button.dataset.touch;
        points = [];
        picture.classList.add("touching");
        for (const form of document.querySelectorAll("form[data-for]")) form.hidden = form.dataset.for !== kind;
        for (const other of measure.querySelectorAll("button")) other.setAttribute("aria-pressed", String(other === button));
        show();
      });
    }
    picture.addEventListener("click", (event) => {
      if (!kind) return;
      if (kind === "scale" && points.length === 4) points = [];
      points.push(share(picture, event));
      show();
    });
    for (const again of document.querySelectorAll("form[data-for] .again")) again.addEventListener("click", () => { points = []; show(); });
  }

  const pair = document.getElementById("pair");
  if (pair) {
    const sides = [[], []], boxes = [...pair.querySelectorAll(".picture")];
    const field = document.querySelector("input[name=pairs]"), count = document.getElementById("count");
    const show = () => {
      boxes.forEach((box, i) => draw(box, sides[i], false));
      const n = Math.min(sides[0].length, sides[1].length);
      field.value = JSON.stringify(sides[0].slice(0, n).map((p, i) => [p, sides[1][i]]));
      count.textContent = n ? String(n) : "";
    };
    boxes.forEach((box, i) => box.addEventListener("click", (event) => {
      if (sides[i].length > sides[1 - i].length) sides[i].pop();
      sides[i].push(share(box, event));
      show();
    }));
    document.querySelector(".again").addEventListener("click", () => { sides[0].length = 0; sides[1].length = 0; show(); });
  }

  const laid = document.getElementById("laid"), slider = document.getElementById("slider");
  if (laid && slider) {
    const over = laid.querySelector(".over");
    const cut = () => { over.style.clipPath = `inset(0 0 0 ${100 - Number(slider.value)}%)`; };
    slider.addEventListener("input", cut);
    cut();
    for (const button of document.querySelectorAll("[data-show]")) {
      button.addEventListener("click", () => {
        over.src = over.dataset[button.dataset.show];
        for (const other of document.querySelectorAll("[data-show]")) other.setAttribute("aria-pressed", String(other === button));
        slider.value = button.dataset.show === "difference" ? 100 : 50;
        cut();
      });
    }
  }
})();
