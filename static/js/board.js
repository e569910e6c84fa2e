// The designer's board of reviews: copies a link where the browser allows it.
(() => {
  "use strict";
  for (const button of document.querySelectorAll("[data-copy]")) {
    const field = document.getElementById(button.dataset.copy);
    if (!field || !navigator.clipboard) continue;
    button.hidden = false;
    button.addEventListener("click", () => {
      field.select();
      navigator.clipboard.writeText(field.value).then(() => { button.textContent = button.dataset.done; });
    });
  }
})();
