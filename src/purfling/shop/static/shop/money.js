// Touching a line of the price list takes it once; touching it again takes it off.
"use strict";
document.addEventListener("click", (event) => {
  const label = event.target.closest("label[data-takes]");
  if (!label) return;
  const box = document.getElementById(label.htmlFor);
  event.preventDefault();
  box.value = box.value === "" ? "1" : "";
  label.setAttribute("aria-pressed", box.value === "" ? "false" : "true");
});
