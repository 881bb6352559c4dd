// A number touched in the picture brings its boxes to the hand, at the lower edge of the screen.
(() => {
  const down = () => { for (const up of document.querySelectorAll(".number.up")) up.classList.remove("up"); };
  document.addEventListener("click", (event) => {
    const text = event.target.closest(".number-on-line");
    if (!text) {
      if (!event.target.closest(".number.up")) down();
      return;
    }
    down();
    const set = document.querySelector(`.number[data-key="${text.dataset.for}"]`);
    if (!set) return;
    set.classList.add("up");
    set.querySelector("input.wished").focus({ preventScroll: true });
  });
  document.addEventListener("keydown", (event) => { if (event.key === "Escape") down(); });
})();
