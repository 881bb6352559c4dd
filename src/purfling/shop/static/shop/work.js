// One letter touches the page's main control (s start, f finish, l lay down, d dry, u usual service), unless one is writing.
document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey || event.isComposing) return;
  if (event.target.closest("input, textarea, select")) return;
  const control = [...document.querySelectorAll("[data-key]")].find((one) => one.dataset.key === event.key);
  if (!control) return;
  event.preventDefault();
  control.click();
});
