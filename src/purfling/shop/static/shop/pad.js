// The number pad of a card: one figure at a time. A figure is kept on the server while it is typed and stored
// when the pad moves on; with the book out of reach the figures wait here and are sent again.
(() => {
  const root = document.getElementById("pad");
  const data = JSON.parse(document.getElementById("card-data").textContent);
  const token = document.querySelector("#token input").value;
  const figures = data.figures;
  const $ = (id) => document.getElementById(id);
  const box = $("figure");
  const waitKey = "purfling-unsent " + root.dataset.reading;
  let at = 0;
  let typing = null;

  const post = (url, body) => fetch(url, {
    method: "POST", credentials: "same-origin", keepalive: true,
    headers: { "Content-Type": "application/json", "X-CSRFToken": token }, body: JSON.stringify(body),
  });
  const number = (text) => /^-?(\d+([.,]\d*)?|[.,]\d+)$/.test(text) ? Number(text.replace(",", ".")) : NaN;
  const newId = () => {
    const b = crypto.getRandomValues(new Uint8Array(16));
    b[6] = (b[6] & 15) | 64; b[8] = (b[8] & 63) | 128;
    const h = Array.from(b, (x) => x.toString(16).padStart(2, "0")).join("");
    return `${h.slice(0, 8)}-${h.slice(8, 12)}-${h.slice(12, 16)}-${h.slice(16, 20)}-${h.slice(20)}`;
  };

  // Digits without a point: of the places where the point may stand, and none, the one inside the hard range and
  // nearest to the usual range is taken. A point that was typed always holds. What will be kept stands below.
  function placed(text, f) {
    const bare = text.trim();
    if (!/^-?\d+$/.test(bare)) return bare;
    const sign = bare.startsWith("-") ? "-" : "";
    const digits = bare.replace("-", "");
    const candidates = [];
    if (!(digits.length > 1 && digits.startsWith("0"))) candidates.push(digits);
    for (let k = 1; k <= Math.min(f.decimals, digits.length); k++) {
      candidates.push((digits.slice(0, -k) || "0") + data.decimal + digits.slice(-k));
    }
    const inside = (t) => { const v = number(sign + t); return v >= f.least && v <= f.most && Math.abs(v) < 10000; };
    const far = (t) => {
      const v = number(sign + t);
      return f.low === null ? 0 : Math.max(f.low - v, v - f.high, 0) / Math.max(Math.abs(f.high), 1e-9);
    };
    const good = candidates.filter(inside).sort((a, b) => far(a) - far(b));
    return good.length ? sign + good[0] : bare;
  }

  function say(f, text) {
    const kept = placed(text, f);
    const value = number(kept);
    const said = $("said");
    const usual = f.usual ? `${root.dataset.usual} ${f.usual} ${f.unit}` : "";
    const outside = !Number.isNaN(value) && f.low !== null && (value < f.low - 1e-9 || value > f.high + 1e-9);
    said.className = outside ? "outside" : "quiet";
    $("kept").textContent = kept !== text.trim() ? `= ${kept} ${f.unit}` : "";
    said.textContent = (outside ? `${root.dataset.outside} ${f.usual} ${f.unit}` : usual);
  }

  function show(index) {
    at = Math.max(0, Math.min(index, figures.length - 1));
    const f = figures[at];
    $("words").textContent = f.words;
    $("datum").textContent = f.datum;
    $("unit").textContent = f.unit;
    $("count").textContent = `${at + 1} / ${figures.length}`;
    for (const s of $("sketches").children) s.hidden = s.dataset.key !== f.key;
    $("before").textContent = f.before ? `${f.before} ${f.unit}` : "–";
    $("same").disabled = !f.before;
    $("minus").disabled = f.least >= 0;
    $("point").disabled = f.decimals === 0;
    $("point").dataset.digit = data.decimal;
    $("point").textContent = data.decimal;
    box.value = f.text;
    say(f, box.value);
    box.focus({ preventScroll: true });
    box.select();
  }

  function keepTyping() {
    clearTimeout(typing);
    const f = figures[at];
    const text = box.value;
    typing = setTimeout(() => post(root.dataset.typing, { key: f.key, place: f.place, text }).catch(() => {}), 250);
  }

  const unsent = () => JSON.parse(localStorage.getItem(waitKey) || "[]");
  const keepUnsent = (list) => {
    if (list.length) localStorage.setItem(waitKey, JSON.stringify(list)); else localStorage.removeItem(waitKey);
  };

  async function send(body) {
    let answer;
    try {
      answer = await post(root.dataset.reading, body);
    } catch {
      keepUnsent([...unsent().filter((b) => b.key !== body.key || b.place !== body.place), body]);
      note(root.dataset.unsent, true);
      return { stored: true };
    }
    if (answer.status === 422) return { sentence: (await answer.json()).sentence };
    if (!answer.ok) return { sentence: `${answer.status}` };
    return { stored: true, notes: (await answer.json()).notes };
  }

  async function again() {
    for (const body of unsent()) {
      try {
        const answer = await post(root.dataset.reading, body);
        if (!answer.ok && answer.status !== 422) return;
      } catch { return; }
      keepUnsent(unsent().filter((b) => b.id !== body.id));
      if (!unsent().length) note("");
    }
  }

  function note(text, wrong) {
    $("notes").textContent = text;
    $("notes").classList.toggle("complaint", Boolean(wrong));
  }

  async function move(step, same) {
    clearTimeout(typing);
    const f = figures[at];
    const text = same ? f.before : placed(box.value, f);
    if (text !== f.text) {
      if (!f.id) f.id = newId();
      const here = at;
      const before = f.text;
      f.text = text;
      const sent = send({ id: f.id, key: f.key, place: f.place, text, same: Boolean(same) });
      if (step) advance(step);
      const outcome = await sent;
      if (outcome.sentence) {
        f.text = before;
        show(here);
        box.value = text;
        note(outcome.sentence, true);
        return;
      }
      if (outcome.notes) note(outcome.notes.join(" "), false);
      if (finished) location.assign(root.dataset.done);
      return;
    }
    if (step) advance(step);
    if (finished) location.assign(root.dataset.done);
  }

  let finished = false;
  function advance(step) {
    if (at + step >= figures.length) { finished = true; return; }
    show(at + step);
  }

  function press(sign) {
    const whole = box.selectionStart === 0 && box.selectionEnd === box.value.length;
    const text = whole ? "" : box.value;
    box.value = sign === "-" ? (text.startsWith("-") ? text.slice(1) : "-" + text) : text + sign;
    box.setSelectionRange(box.value.length, box.value.length);
    say(figures[at], box.value);
    note("");
    keepTyping();
  }

  root.addEventListener("click", (event) => {
    const key = event.target.closest("button");
    if (!key) return;
    if (key.dataset.digit) press(key.dataset.digit);
    else if (key.id === "wipe") {
      box.value = box.selectionEnd > box.selectionStart ? "" : box.value.slice(0, -1);
      say(figures[at], box.value); keepTyping();
    } else if (key.id === "next") move(1, false);
    else if (key.id === "same") move(1, true);
    else if (key.id === "back") move(-1, false);
    box.focus({ preventScroll: true });
  });
  box.addEventListener("input", () => { say(figures[at], box.value); note(""); keepTyping(); });
  box.addEventListener("keydown", (event) => {
    if (event.key === "Enter" || event.key === "ArrowDown") { event.preventDefault(); move(1, false); }
    else if (event.key === "ArrowUp") { event.preventDefault(); move(-1, false); }
    else if (event.key === "s" || event.key === "=") {
      event.preventDefault();
      if (figures[at].before) move(1, true);
    }
  });
  document.addEventListener("visibilitychange", () => {
    const f = figures[at];
    if (document.hidden && box.value !== f.text) {
      post(root.dataset.typing, { key: f.key, place: f.place, text: box.value }).catch(() => {});
    }
  });
  setInterval(again, 3000);

  const early = box.value; // typed before this script had come
  const u = data.unfinished;
  let begin = figures.findIndex((f) => `${f.key}-${f.place}` === root.dataset.at);
  if (begin < 0 && u.key) begin = figures.findIndex((f) => f.key === u.key && f.place === u.place);
  if (begin < 0) begin = figures.findIndex((f) => !f.text);
  show(begin < 0 ? 0 : begin);
  if (u.key && figures[at].key === u.key && figures[at].place === u.place && u.text) {
    box.value = u.text;
    box.setSelectionRange(u.text.length, u.text.length);
    say(figures[at], box.value);
  }
  if (early) { box.value = early; box.setSelectionRange(early.length, early.length); say(figures[at], early); keepTyping(); }
  again();
})();
