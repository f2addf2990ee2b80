// Dropping a file, and saying that a large one is being read. The page works
// without this file.
"use strict";

(() => {
  const form = document.querySelector("form.receive");
  if (!form) return;
  const drop = form.querySelector(".drop");
  const file = document.getElementById("f-file");

  if (drop) {
    for (const event of ["dragenter", "dragover"]) {
      form.addEventListener(event, (e) => {
        e.preventDefault();
        drop.classList.add("over");
      });
    }
    for (const event of ["dragleave", "dragend"]) form.addEventListener(event, () => drop.classList.remove("over"));
    form.addEventListener("drop", (e) => {
      e.preventDefault();
      drop.classList.remove("over");
      if (e.dataTransfer.files.length === 0) return;
      file.files = e.dataTransfer.files;
      form.requestSubmit(form.querySelector("button.main"));
    });
  }

  form.addEventListener("submit", () => {
    setTimeout(() => {
      const wait = document.createElement("progress");
      wait.setAttribute("aria-label", "Reading the file");
      document.getElementById("sending").replaceChildren(wait, " Reading the file");
    }, 400);
  });
  const first = document.getElementById("mistakes");
  if (first) first.focus();
})();
