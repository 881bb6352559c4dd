// Photographs arrive piece by piece, one after the other, and go on where they stopped.
(() => {
  const PIECE = 1024 * 1024;
  document.documentElement.classList.add("scripted");
  const token = () => document.querySelector("input[name=csrfmiddlewaretoken]").value;
  const wait = (ms) => new Promise((then) => setTimeout(then, ms));
  const hex = (buffer) => [...new Uint8Array(buffer)].map((b) => b.toString(16).padStart(2, "0")).join("");

  const key_of = async (file) => {
    if (globalThis.crypto && crypto.subtle) return { key: hex(await crypto.subtle.digest("SHA-256", await file.arrayBuffer())), own: "" };
    const bytes = new Uint8Array(32);
    crypto.getRandomValues(bytes);
    return { key: hex(bytes), own: "1" };
  };

  const send = async (form, file, line) => {
    const bar = line.querySelector("progress");
    const { key, own } = await key_of(file);
    const address = new URL(form.dataset.arriving, location.href);
    for (const name of ["mark", "view", "light", "side", "angle_deg"]) {
      if (form.elements[name] && form.elements[name].value) address.searchParams.set(name, form.elements[name].value);
    }
    address.searchParams.set("key", key);
    if (own) address.searchParams.set("own", "1");
    address.searchParams.set("name", file.name);
    address.searchParams.set("total", String(file.size));
    let offset = null, pause = 500;
    for (;;) {
      try {
        let answer;
        if (offset === null) {
          answer = await fetch(address, { credentials: "same-origin" });
        } else {
          address.searchParams.set("offset", String(offset));
          answer = await fetch(address, { method: "POST", credentials: "same-origin", body: file.slice(offset, offset + PIECE),
            headers: { "X-CSRFToken": token(), "Content-Type": "application/octet-stream" } });
        }
        if (answer.status === 422) throw Object.assign(new Error("refused"), { sentence: (await answer.json()).sentence });
        if (!answer.ok) throw new Error(String(answer.status));
        const said = await answer.json();
        pause = 500;
        line.classList.remove("waits");
        line.querySelector(".note").textContent = "";
        if (said.photograph) return said;
        offset = said.offset;
        bar.value = file.size ? offset / file.size : 1;
      } catch (trouble) {
        if (trouble.sentence) throw trouble;
        line.querySelector(".note").textContent = form.dataset.waits;
        await wait(pause);
        pause = Math.min(pause * 2, 15000);
        offset = null;
      }
    }
  };

  const queue = [];
  let busy = false;
  const work = async () => {
    if (busy) return;
    busy = true;
    while (queue.length) {
      const { form, file, line } = queue.shift();
      try {
        const kept = await send(form, file, line);
        line.querySelector("progress").value = 1;
        const link = document.createElement("a");
        link.href = kept.page;
        link.textContent = `✓ ${form.dataset.told}`;
        line.querySelector(".note").replaceChildren(link);
        line.classList.add("kept");
      } catch (trouble) {
        line.querySelector("progress").remove();
        line.querySelector(".note").textContent = `✕ ${trouble.sentence || trouble.message}`;
        line.classList.add("complaint");
      }
    }
    busy = false;
  };
  window.addEventListener("beforeunload", (event) => { if (busy) event.preventDefault(); });

  for (const form of document.querySelectorAll(".photograph-input")) {
    for (const input of form.querySelectorAll("input[type=file]")) {
      input.addEventListener("change", () => {
        for (const file of input.files) {
          const line = document.createElement("li"), bar = document.createElement("progress");
          const name = document.createElement("span"), note = document.createElement("span");
          bar.max = 1; bar.value = 0; note.className = "note"; name.textContent = ` ${file.name} `;
          bar.setAttribute("aria-label", file.name);
          line.append(bar, name, note);
          form.querySelector(".arriving").append(line);
          queue.push({ form, file, line });
        }
        input.value = "";
        work();
      });
    }
    const light = form.elements.light;
    if (light) light.addEventListener("change", () => {
      form.querySelector(".raking").hidden = light.value !== "raking";
      form.querySelector(".uv").hidden = light.value !== "ultraviolet";
    });
  }
})();
