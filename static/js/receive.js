// The receiving page by keyboard: 1 to 9 choose from a list, Escape goes back to the field.
// Everything here is also done by links and buttons; this only saves keys.
"use strict";

const typing = (element) => element.matches("input, select, textarea");

document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey) {
    return;
  }
  const table = document.getElementById("table");
  if (event.key === "Escape" && table) {
    const back = table.querySelector("[data-back]");
    if (back) {
      event.preventDefault();
      back.click();
    } else {
      table.querySelector("#find")?.focus();
    }
  }
  if (/^[1-9]$/.test(event.key) && !typing(event.target)) {
    const choice = document.querySelectorAll(".choice")[Number(event.key) - 1];
    if (choice) {
      event.preventDefault();
      choice.click();
    }
  }
});

// A new step has come in: its first field takes the keyboard, with what stands there selected.
document.addEventListener("htmx:afterSettle", () => {
  if (document.activeElement?.matches("input[autofocus]")) {
    document.activeElement.select();
  }
});
