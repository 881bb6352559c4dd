// Small manners of every page: a details sheet closes when the page is touched elsewhere, or by Escape.
document.addEventListener("click", (event) => {
  for (const sheet of document.querySelectorAll("details.more[open]")) {
    if (!sheet.contains(event.target)) sheet.removeAttribute("open");
  }
});
document.addEventListener("keydown", (event) => {
  if (event.key !== "Escape") return;
  for (const sheet of document.querySelectorAll("details.more[open]")) sheet.removeAttribute("open");
});
