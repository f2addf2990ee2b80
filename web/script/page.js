// What every page does beside being read. Pages work without it.
"use strict";

// After a part was replaced, a screen reader hears its status line by itself; the
// place on the page must not jump.
document.addEventListener("htmx:responseError", (e) => {
  const say = document.getElementById("trouble") || document.body.appendChild(Object.assign(document.createElement("p"), { id: "trouble", role: "alert", className: "trouble" }));
  say.textContent = "That did not reach the program, or it said no: what you typed is still here. Send it again.";
});
