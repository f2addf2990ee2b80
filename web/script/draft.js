// Drafts: what stands in a form is kept in this browser until the program has
// saved it. A reload, a closed tab or a dropped connection loses nothing. Forms
// work without this file; they are then kept by nobody until they are sent.
"use strict";

(() => {
  const prefix = "draft:";
  // What says where the form came from and not what was typed.
  const unkept = new Set(["kept", "drop", "more", "corrects", "draft"]);

  // read returns a kept draft, or null.
  const read = (key) => {
    try {
      return JSON.parse(localStorage.getItem(prefix + key));
    } catch {
      return null;
    }
  };
  const drop = (key) => {
    try {
      localStorage.removeItem(prefix + key);
    } catch { /* storage is off: nothing was kept */ }
  };

  const element = (tag, text, more) => Object.assign(document.createElement(tag), { textContent: text }, more);
  const clock = (at) => new Date(at).toLocaleString([], new Date(at).toDateString() === new Date().toDateString() ? { timeStyle: "short" } : { dateStyle: "medium", timeStyle: "short" });

  // inputs are the values of a form, without files.
  const inputs = (form) => {
    const out = {};
    for (const [name, value] of new FormData(form)) {
      if (typeof value === "string" && !unkept.has(name)) out[name] = value;
    }
    return out;
  };

  // keep writes the draft, or says that it cannot.
  const keep = (form) => {
    if (form.dataset.done || !form.dataset.touched) return;
    const draft = { at: Date.now(), title: document.querySelector("h1").textContent, inputs: inputs(form) };
    try {
      localStorage.setItem(prefix + form.dataset.draft, JSON.stringify(draft));
    } catch {
      say(form, "This browser keeps no drafts: save before you leave the page.");
    }
  };

  // say writes a line beside the button.
  const say = (form, text) => { form.querySelector("#sending").textContent = text; };

  // fill puts a draft into its form and tells whether the page has an input for all
  // of it. What it has none for yet, a further item of a list, is carried along.
  const fill = (form, values) => {
    let whole = true;
    for (const [name, value] of Object.entries(values)) {
      const there = [...form.elements].filter((e) => e.name === name && e.type !== "file");
      if (there.length === 0 && value !== "") {
        form.append(element("input", "", { type: "hidden", name, value }));
        whole = false;
      }
      for (const e of there) {
        if (e.type === "radio" || e.type === "checkbox") e.checked = e.value === value;
        else e.value = value;
        if (value !== "") for (let d = e.closest("details"); d && name !== "head"; d = d.parentElement.closest("details")) d.open = true;
      }
    }
    return whole;
  };

  // room asks the program for the form with room for all that it carries along.
  const room = async (form, draft) => {
    const body = new FormData(form);
    body.set("more", "show");
    try {
      const answer = await fetch(form.action, { method: "POST", body });
      if (answer.ok && replace(await answer.text())) restored(document.querySelector("form[data-draft]"), draft);
    } catch { /* not reached: it is carried along, and saved with the rest */ }
  };

  // restored says what was put back and offers to throw it away.
  const restored = (form, draft) => {
    const box = element("div", "", { className: "kept" });
    const away = element("button", "Discard the draft", { type: "button" });
    away.addEventListener("click", () => {
      form.dataset.done = "discarded";
      drop(form.dataset.draft);
      location.reload();
    });
    box.append(element("p", `Kept from ${clock(draft.at)}, not saved yet. Files must be chosen again.`), away);
    form.querySelector("#draft").replaceChildren(box);
  };

  // replace puts the program's answer in the place of the page's content.
  const replace = (text) => {
    const fresh = new DOMParser().parseFromString(text, "text/html").getElementById("main");
    if (!fresh) return false;
    document.getElementById("main").replaceWith(fresh);
    if (window.htmx) window.htmx.process(fresh);
    const form = fresh.querySelector("form[data-draft]");
    if (form) begin(form, false);
    const first = fresh.querySelector("#mistakes, #overtaken");
    if (first) first.focus();
    return true;
  };

  // send sends a form and stays where it is until the program has answered.
  const send = async (form, button) => {
    const body = new FormData(form, button);
    const late = setTimeout(() => form.querySelector("#sending").replaceChildren(element("progress", "", { ariaLabel: "Sending" }), " Sending"), 400);
    form.setAttribute("aria-busy", "true");
    try {
      const answer = await fetch(form.action, { method: "POST", body, headers: { Accept: "text/html" } });
      const text = await answer.text();
      clearTimeout(late);
      if (answer.redirected) {
        form.dataset.done = "saved";
        drop(form.dataset.draft);
        location.assign(answer.url);
        return;
      }
      form.removeAttribute("aria-busy");
      if ((answer.ok || answer.status === 422 || answer.status === 409) && replace(text)) return;
      const said = new DOMParser().parseFromString(text, "text/html").querySelector("#main .lead");
      say(form, "Not saved: " + (said ? said.textContent : "the program said no") + ". All that you typed is still here.");
    } catch {
      clearTimeout(late);
      form.removeAttribute("aria-busy");
      say(form, "Not saved: the program could not be reached. All that you typed is still here and kept in this browser; save again when the connection is back.");
    }
  };

  // signs gives a figure a key for its sign, so that the phone may show digits.
  const signs = (form) => {
    for (const e of form.querySelectorAll("[data-figure]")) {
      e.inputMode = "decimal";
      if (e.dataset.figure !== "sign") continue;
      const key = element("button", "<", { type: "button", className: "mark", title: "Below what the test can tell, above it, or neither" });
      key.setAttribute("aria-label", "Sign of " + document.querySelector(`label[for="${CSS.escape(e.id)}"]`).textContent);
      key.addEventListener("click", () => {
        const figure = e.value.replace(/^[<>]\s*/, "");
        e.value = (e.value.startsWith("<") ? ">" : e.value.startsWith(">") ? "" : "<") + figure;
        e.dispatchEvent(new Event("input", { bubbles: true }));
        e.focus();
      });
      e.before(key);
    }
  };

  // begin looks after a form. A fresh page takes up its draft; an answer to what was
  // just sent holds all of it already.
  const begin = (form, fresh) => {
    signs(form);
    const draft = fresh ? read(form.dataset.draft) : null;
    if (draft && draft.inputs) {
      const whole = fill(form, draft.inputs);
      form.dataset.touched = "yes";
      restored(form, draft);
      if (!whole) room(form, draft);
    }
    if (!fresh) {
      form.dataset.touched = "yes";
      keep(form);
    }
    let soon;
    form.addEventListener("input", () => {
      form.dataset.touched = "yes";
      clearTimeout(soon);
      soon = setTimeout(() => keep(form), 200);
    });
    form.addEventListener("submit", (e) => {
      e.preventDefault();
      if (form.getAttribute("aria-busy")) return;
      form.dataset.touched = "yes";
      keep(form);
      send(form, e.submitter);
    });
    for (const event of ["pagehide", "blur"]) window.addEventListener(event, () => form.isConnected && keep(form));
    document.addEventListener("visibilitychange", () => form.isConnected && keep(form));
  };

  // list names the drafts of a well that wait.
  const list = (box) => {
    for (let i = 0; i < localStorage.length; i++) {
      const key = localStorage.key(i).startsWith(prefix) ? localStorage.key(i).slice(prefix.length) : "";
      const draft = key.startsWith(box.dataset.well) ? read(key) : null;
      if (!draft) continue;
      const line = element("div", "", { className: "kept" });
      line.append(element("p", `${draft.title}: kept from ${clock(draft.at)}, not saved yet.`), element("a", "Go on", { href: key, className: "button" }));
      box.append(line);
    }
  };

  for (const form of document.querySelectorAll("form[data-draft]")) begin(form, true);
  const drafts = document.getElementById("drafts");
  if (drafts) {
    try {
      list(drafts);
    } catch { /* storage is off: nothing was kept */ }
  }
  const first = document.querySelector("#mistakes, #overtaken");
  if (first) first.focus();
})();
