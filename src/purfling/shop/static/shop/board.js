// The board: a place is touched, its figure typed on the pad and stored when the pad moves on; the plan is
// reckoned anew by the server. With the book out of reach the figures wait here and are sent again.
(() => {
  const root = document.getElementById("pad");
  const data = JSON.parse(document.getElementById("board-data").textContent);
  const token = document.querySelector("#token input").value;
  const svg = document.getElementById("board");
  const places = data.places;
  const $ = (id) => document.getElementById(id);
  const box = $("figure");
  const waitKey = "purfling-unsent " + root.dataset.reading;
  const SVG = "http://www.w3.org/2000/svg";
  let at = 0;

  const number = (text) => /^(\d+([.,]\d*)?|[.,]\d+)$/.test(text) ? Number(text.replace(",", ".")) : NaN;
  const shown = (value, decimals) => value.toFixed(decimals).replace(".", data.decimal);
  const key = (p) => `${data.moment} ${p.kind} ${p.line} ${p.station}`;

  // Feelers are read in hundredths: digits without a point are hundredths of a gap or a groove, whole mm of a
  // template. A point that was typed always holds. The box says what is kept.
  function placed(text, p) {
    const bare = text.trim();
    if (p.kind === "across" || !/^\d+$/.test(bare)) return bare;
    return shown(Number(bare) / 100, 2);
  }

  function note(text) { $("notes").textContent = text; }

  function say() {
    const bare = box.value.trim();
    const kept = placed(bare, places[at]);
    $("said").textContent = kept !== bare ? `= ${kept} mm` : "";
  }

  function mark(index) {
    const p = places[index];
    const target = svg.querySelector(`[data-place="${index}"]`);
    if (!target) return;
    target.classList.toggle("filled", Boolean(p.text));
    target.querySelector(".read").textContent = p.text;
  }

  function onLine(p) {
    const [nut, end] = data.lines[p.line];
    return [data.left + p.station * data.px, nut + (end - nut) * p.station / data.length];
  }

  function grooves() {
    const group = $("grooves");
    const chips = $("chips");
    group.replaceChildren();
    chips.replaceChildren();
    places.forEach((p, index) => {
      if (p.kind !== "pit") return;
      const [x, y] = onLine(p);
      const ring = document.createElementNS(SVG, "circle");
      ring.setAttribute("cx", x); ring.setAttribute("cy", y); ring.setAttribute("r", 9);
      ring.setAttribute("class", index === at ? "groove chosen" : "groove");
      group.append(ring);
      const chip = document.createElement("button");
      chip.type = "button"; chip.className = "chip"; chip.dataset.place = index;
      chip.setAttribute("aria-pressed", index === at);
      chip.textContent = `◯ ${p.words}${p.text ? " · " + p.text : ""}`;
      chips.append(chip);
    });
    if ($("nudge")) $("nudge").hidden = places[at].kind !== "pit";
  }

  function show(index) {
    at = Math.max(0, Math.min(index, places.length - 1));
    const p = places[at];
    for (const g of svg.querySelectorAll(".place")) {
      const mine = Number(g.dataset.place) === at;
      g.classList.toggle("chosen", mine);
      g.setAttribute("tabindex", mine ? "0" : "-1");
    }
    $("words").textContent = p.words;
    for (const id of ["less", "more"]) $(id).disabled = p.kind === "across";
    $("groove") && ($("groove").disabled = p.kind !== "gap");
    box.value = p.text;
    say();
    grooves();
    box.focus({ preventScroll: true });
    box.select();
  }

  const unsent = () => JSON.parse(localStorage.getItem(waitKey) || "[]");
  const keepUnsent = (list) => {
    if (list.length) localStorage.setItem(waitKey, JSON.stringify(list)); else localStorage.removeItem(waitKey);
  };
  const post = (body) => fetch(root.dataset.reading, {
    method: "POST", credentials: "same-origin", keepalive: true,
    headers: { "Content-Type": "application/json", "X-CSRFToken": token }, body: JSON.stringify(body),
  });
  const body = (p, text) => ({ kind: p.kind, line: p.line, station: p.station, moment: data.moment, text });
  const same = (a, b) => a.kind === b.kind && a.line === b.line && a.station === b.station && a.moment === b.moment;

  async function send(given) {
    let answer;
    try {
      answer = await post(given);
    } catch {
      keepUnsent([...unsent().filter((b) => !same(b, given)), given]);
      note(root.dataset.unsent);
      return "";
    }
    if (answer.status === 422) return (await answer.json()).sentence;
    if (!answer.ok) return String(answer.status);
    htmx.trigger("#plan", "reckon");
    return "";
  }

  async function again() {
    for (const one of unsent()) {
      try {
        const answer = await post(one);
        if (!answer.ok && answer.status !== 422) return;
      } catch { return; }
      keepUnsent(unsent().filter((b) => !same(b, one)));
      if (!unsent().length) { note(""); htmx.trigger("#plan", "reckon"); }
    }
  }

  // Store the figure before the eyes and go to another place at once; a refusal brings it back.
  async function move(to) {
    const here = at;
    const p = places[here];
    const text = placed(box.value, p);
    const value = number(text);
    const before = p.text;
    const clean = Number.isNaN(value) ? text : shown(value, p.kind === "across" ? 1 : 2);
    const moved = p.was !== undefined && p.was !== p.station;
    if (clean === before && !moved) { if (to !== here) show(to); return; }
    note("");
    p.text = clean;
    mark(here);
    const old = moved && before ? { ...p, station: p.was } : null;
    p.was = p.station;
    show(to);
    if (old) await send(body(old, ""));
    const sentence = await send(body(p, clean));
    if (!sentence) return;
    p.text = before;
    mark(here);
    show(here);
    box.value = text;
    note(sentence);
  }

  // After a groove the hand goes back to the first place that was not read yet.
  function following() {
    if (places[at].kind !== "pit") return Math.min(at + 1, places.length - 1);
    const empty = places.findIndex((p, index) => index !== at && !p.text);
    return empty < 0 ? at : empty;
  }

  // A groove lies between the places of the straight edge, where it is deepest.
  function addGroove(line, station) {
    const mm = Math.max(1, Math.min(Math.round(station), Math.round(data.length) - 1));
    const there = places.findIndex((p) => p.kind === "pit" && p.line === line && p.station === mm);
    if (there >= 0) { move(there); return; }
    places.push({ kind: "pit", line, station: mm, text: "", was: mm, words: "" });
    rename(places[places.length - 1]);
    move(places.length - 1);
  }
  function rename(p) {
    p.words = data.groove.replace("{line}", data.names[p.line]).replace("{station}", p.station);
  }

  function beside() {
    const p = places[at];
    if (p.kind !== "gap") return;
    const next = places.find((q) => q.kind === "gap" && q.line === p.line && q.station > p.station);
    addGroove(p.line, (p.station + (next ? next.station : data.length)) / 2);
  }

  function nudge(by) {
    const p = places[at];
    if (p.kind !== "pit") return;
    const to = p.station + by;
    if (to < 1 || to > data.length - 1) return;
    if (places.some((q) => q !== p && q.kind === "pit" && q.line === p.line && q.station === to)) return;
    if (p.was === undefined) p.was = p.station;
    p.station = to;
    rename(p);
    const typed = box.value;
    $("words").textContent = p.words;
    grooves();
    box.value = typed;
    box.focus({ preventScroll: true });
  }

  function step(by) {
    const p = places[at];
    if (p.kind === "across") return;
    const value = number(placed(box.value, p));
    const next = Math.max(0, Math.round(((Number.isNaN(value) ? 0 : value) + by) * 100) / 100);
    box.value = shown(next, 2);
    box.setSelectionRange(box.value.length, box.value.length);
    note("");
    say();
  }

  function press(sign) {
    const whole = box.selectionStart === 0 && box.selectionEnd === box.value.length;
    box.value = (whole ? "" : box.value) + sign;
    box.setSelectionRange(box.value.length, box.value.length);
    note("");
    say();
  }

  root.addEventListener("click", (event) => {
    const pressed = event.target.closest("button");
    if (!pressed) return;
    const d = pressed.dataset;
    if (d.place !== undefined) { move(Number(d.place)); return; }
    if (d.digit) press(d.digit);
    else if (d.step) step(Number(d.step));
    else if (d.nudge) nudge(Number(d.nudge));
    else if (pressed.id === "wipe") {
      box.value = box.selectionEnd > box.selectionStart ? "" : box.value.slice(0, -1);
      say();
    } else if (pressed.id === "next") move(following());
    else if (pressed.id === "back") move(Math.max(at - 1, 0));
    else if (pressed.id === "groove") beside();
    box.focus({ preventScroll: true });
  });

  svg.addEventListener("click", (event) => {
    const place = event.target.closest(".place");
    if (place) { move(Number(place.dataset.place)); return; }
    const line = event.target.closest(".touch-line");
    if (!line || data.moment !== "found") return;
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    addGroove(line.dataset.line, (point.x - data.left) / data.px);
  });
  svg.addEventListener("keydown", (event) => {
    const target = event.target.closest(".place");
    if (!target) return;
    const index = Number(target.dataset.place);
    const p = places[index];
    const near = (test) => places.findIndex(test);
    let to = -1;
    if (event.key === "ArrowRight") to = index + 1;
    else if (event.key === "ArrowLeft") to = index - 1;
    else if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      const order = ["low", "centre", "high"];
      const line = order[order.indexOf(p.line) + (event.key === "ArrowDown" ? 1 : -1)];
      to = near((q) => q.kind === p.kind && q.line === line && q.station === p.station);
    } else if (event.key === "Enter" || event.key === " ") { event.preventDefault(); box.focus(); box.select(); return; }
    if (to < 0 || to >= places.length) return;
    event.preventDefault();
    move(to);
    const other = svg.querySelector(`[data-place="${to}"]`);
    if (other) other.focus();
  });
  box.addEventListener("input", () => { note(""); say(); });
  box.addEventListener("keydown", (event) => {
    const k = event.key;
    if (k === "Enter" || k === "ArrowDown") move(following());
    else if (k === "ArrowUp") move(Math.max(at - 1, 0));
    else if (k === "+" || k === "-") step(k === "+" ? 0.05 : -0.05);
    else if (k === "g" && data.moment === "found") beside();
    else if (k === "<" || k === ">") nudge(k === ">" ? 1 : -1);
    else return;
    event.preventDefault();
  });
  document.addEventListener("visibilitychange", () => { if (document.hidden) move(at); });

  // After planing each place says what is still high, with a word's sign and not by colour alone.
  function marks() {
    for (const t of svg.querySelectorAll(".still")) { t.textContent = ""; t.setAttribute("class", "still"); }
    const given = $("board-marks");
    if (!given || data.moment !== "left") return;
    for (const m of JSON.parse(given.textContent)) {
      const index = places.findIndex((p) => p.kind === "gap" && p.line === m.line && p.station === m.station);
      const text = svg.querySelector(`[data-place="${index}"] .still`);
      if (!text) continue;
      const way = Math.abs(m.high) <= 0.03 ? "down" : m.high > 0 ? "high" : "deep";
      text.setAttribute("class", `still ${way}`);
      text.textContent = way === "down" ? "✓" : `${way === "high" ? "▲" : "▼"} ${shown(Math.abs(m.high), 2)}`;
    }
  }
  document.body.addEventListener("htmx:afterSettle", marks);
  setInterval(again, 3000);

  $("point").dataset.digit = data.decimal;
  $("point").textContent = data.decimal;
  places.forEach((p, index) => { if (p.kind === "pit") p.was = p.station; mark(index); });
  const empty = places.findIndex((p) => !p.text);
  show(empty < 0 ? 0 : empty);
  again();
})();
