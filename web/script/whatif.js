// Escape puts a change back, and once more brings it back. All else is in the page.
"use strict";

document.addEventListener("keydown", (e) => {
  if (e.key !== "Escape" || e.defaultPrevented || e.isComposing) return;
  const back = document.getElementById("put-back");
  if (back) {
    e.preventDefault();
    back.click();
  }
});
