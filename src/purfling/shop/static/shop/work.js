// One letter touches the page's main control (s start, f finish, l lay down, d dry, u usual service), unless one is writing.
document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey || event.isComposing) return;
  if (event.target.closest("input, textarea, select")) return;
  const control = [...document.querySelectorAll("[data-key]")].find((one) => one.dataset.key === event.key);
  if (!control) return;
  event.preventDefault();
  control.click();
});
// Five minutes more or less, and touching a line's minutes says that it was done.
document.addEventListener("click", (event) => {
  const step = event.target.closest("[data-step]");
  if (!step) return;
  const box = document.getElementById(step.dataset.for);
  box.value = Math.max(1, (parseInt(box.value, 10) || 0) + parseInt(step.dataset.step, 10));
  const tick = step.closest("li").querySelector("input[type=checkbox]");
  if (tick) tick.checked = true;
});
